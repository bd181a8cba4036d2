import type { Random } from '../../simulator/random.ts'
import { type Drawn, G, type Rating, RHO, within } from './drawnRating.ts'

/** Pipe with a velocity of 1.5 … 3 m/s and a loss of 3 … 9 % of the net head, after Haaland's explicit friction factor. */
function pipeOf(random: Random, { rating, isPumped }: Drawn) {
  const velocity = within(random, [1.5, 3])
  const bore = Math.sqrt((4 * rating.discharge) / (Math.PI * velocity))
  const roughness = within(random, [2e-6, 1.5e-4])
  const reynolds = (velocity * bore) / 1.14e-6
  const friction = (-1.8 * Math.log10((roughness / bore / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
  const minorLoss = within(random, [1, 4])
  const velocityHead = velocity ** 2 / (2 * G)
  const wanted = within(random, [0.03, 0.09]) * rating.head
  const length = isPumped ? 4 : Math.max(3, ((wanted / velocityHead - minorLoss) * bore) / friction)
  return { bore, length, roughness, minorLoss, loss: ((friction * length) / bore + minorLoss) * velocityHead }
}

/** Pump or natural head, and the pipe, so that the rated head is there at rated discharge. */
export function waterOf(random: Random, drawn: Drawn) {
  const { rating, isPumped } = drawn
  const pipe = pipeOf(random, drawn)
  const penstock = {
    bore: `${pipe.bore} m`,
    length: `${pipe.length} m`,
    roughness: `${pipe.roughness} m`,
    minorLoss: pipe.minorLoss,
    closingTime: `${within(random, [4, 12])} s`,
  }
  const site = {
    timeZone: 'Europe/London',
    waterTemperature: '15 Cel',
    gravity: `${G} m/s2`,
    waterDensity: `${RHO} kg/m3`,
  }
  return isPumped ? pumped({ drawn, pipe, penstock, site }) : natural({ rating, pipe, penstock, site })
}

interface Pipework {
  pipe: ReturnType<typeof pipeOf>
  penstock: object
  site: object
}

function natural({ rating, pipe, penstock, site }: Pipework & { rating: Rating }) {
  const [level, rackLoss] = [1.5, 0.03]
  const height = rating.head + pipe.loss + rackLoss - level
  return {
    sections: {
      site: {
        ...site,
        elevations: { turbine: '0 m', inletGauge: '0 m', headwaterZero: `${height} m`, tailwaterZero: '0 m' },
      },
      penstock,
      forebay: { area: `${200 * rating.discharge + 50} m2`, lowestLevel: '0.7 m' },
      spillway: { crest: `${level} m`, width: `${5 * rating.discharge + 1} m` },
    },
    built: {
      rackLoss: `${rackLoss} m`,
      pond: { level: `${level} m`, sluiceFlow: `${0.1 * rating.discharge} m3/s` },
    },
  }
}

/** The pump gives the rated head at full speed; its curve falls by a third of that on the way. */
function pumped({ drawn, pipe, penstock, site }: Pipework & { drawn: Drawn }) {
  const { head, discharge } = drawn.rating
  const isFree = ['pelton', 'turgo'].includes(drawn.kind.kind)
  const lift = isFree ? 0.9 : 0
  const pumpHead = head + pipe.loss + lift
  return {
    sections: {
      // gauge 0.3 m over the water, which stands at 0.5 m
      site: { ...site, elevations: { turbine: '0 m', inletGauge: '0 m', pumpGauge: '-0.6 m' } },
      penstock,
      pump: {
        ratedHead: `${pumpHead} m`,
        ratedDischarge: `${discharge} m3/s`,
        gaugeRise: '0.8 m',
        headCurve: [0, 0.5, 1].map((q) => [q, 1.33 - 0.33 * q ** 2]),
      },
    },
    built: { rackLoss: '0.02 m', sump: { level: '0.5 m' } },
  }
}
