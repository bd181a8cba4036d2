import { type Signal, useSignalEffect } from '@preact/signals'
import { useRef } from 'preact/hooks'
import type { FigureDescription } from '../../../server/wire/figure.ts'
import { formatNumber } from '../../../server/wire/numbers.ts'
import { agoWords, durationWords } from '../../format/age.ts'
import { dateTime } from '../../format/time.ts'
import { groupWords, originWords } from '../../format/words.ts'
import type { FigureHold } from '../../hold/plantHold.ts'
import { useBackCloses } from '../parts/backCloses.ts'
import { Button } from '../parts/button.tsx'
import { Fact } from '../parts/fact.tsx'
import { FigureNumber, reasonText } from '../parts/figureNumber.tsx'
import { FigureSymbol } from '../parts/symbol.tsx'
import { Explanation } from './explanation.tsx'
import type { PlantProps } from './plantProps.ts'

type FigureDetailsProps = PlantProps & { selected: Signal<string | null> }

/** What is known about one figure, in a sheet over the screen. */
export function FigureDetails({ selected, hold, connection, open }: FigureDetailsProps) {
  const sheet = useRef<HTMLDialogElement>(null)
  const figure = selected.value === null ? undefined : hold.byId.get(selected.value)
  useSignalEffect(() => {
    const isWanted = selected.value !== null && hold.byId.has(selected.value)
    if (isWanted && sheet.current && !sheet.current.open) sheet.current.showModal()
  })
  const close = () => {
    selected.value = null
  }
  useBackCloses(figure !== undefined, () => sheet.current?.close())
  return (
    <dialog class="sheet" ref={sheet} onClose={close} aria-labelledby="sheet-title" data-panel="details">
      <div class="sheet-head">
        <h2 id="sheet-title">
          {figure?.description.name} {figure && <FigureSymbol symbol={figure.description.symbol} />}
        </h2>
        <Button action="close" onClick={() => sheet.current?.close()}>
          Close
        </Button>
      </div>
      {figure && <Details figure={figure} hold={hold} connection={connection} open={open} />}
    </dialog>
  )
}

function Details({ figure, hold, connection, open }: PlantProps & { figure: FigureHold }) {
  const { description } = figure
  const value = figure.value.value
  const zone = hold.view.timeZone
  return (
    <>
      <p class="sheet-value">
        <FigureNumber figure={figure} />
      </p>
      <dl class="facts">
        <Fact word="Quality">
          {value.quality === 'good' ? 'good' : `${value.quality}: ${reasonText(value)}`}
        </Fact>
        {value.u95 !== undefined && (
          <Fact word="Uncertainty">the true value lies within ± with 95 % confidence</Fact>
        )}
        <Fact word="Measured">
          {value.at === null
            ? value.value === null
              ? 'never'
              : 'constant'
            : `${dateTime(value.at, zone)}, ${agoWords(value.at, connection.now.value)}`}
        </Fact>
        <Fact word="Origin">{originWords[description.origin]}</Fact>
        {(['rated', 'low', 'high'] as const).map((limit) => (
          <LimitFact key={limit} figure={figure} limit={limit} />
        ))}
      </dl>
      <Explanation figure={description.id} hold={hold} connection={connection} open={open} />
      <h3>About this figure</h3>
      <dl class="facts">
        <Fact word="Group">{groupWords.find(([group]) => group === description.group)?.[1]}</Fact>
        <Fact word="Stale after">
          {description.staleAfterMs === null
            ? 'never: it is sent only when it changes'
            : durationWords(description.staleAfterMs)}
        </Fact>
        <Fact word="Name in files">{description.id}</Fact>
      </dl>
    </>
  )
}

const LIMIT_WORDS = { rated: 'Rated', low: 'Normal from', high: 'Normal up to' }

function LimitFact({ figure, limit }: { figure: FigureHold; limit: keyof typeof LIMIT_WORDS }) {
  const description: FigureDescription = figure.description
  const wire = description[limit]
  if (wire === undefined) return null
  const { text } = formatNumber(figure.unit.value(wire))
  return <Fact word={LIMIT_WORDS[limit]}>{`${text} ${figure.unit.print}`}</Fact>
}
