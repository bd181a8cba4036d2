export interface ReservoirDesign {
  /** Water surface [m²]. */
  area: number
  /** Sluice that is always open: its flow [m³/s] at `sluiceLevel` [m], growing with the root of the level. */
  sluiceFlow: number
  sluiceLevel: number
  /** Weir crest over gauge zero [m] and crest width [m]. */
  crest: number
  crestWidth: number
  /** C in Q = C·b·h^1.5, metric. */
  weirCoefficient: number
}

/** A pond behind a weir: the stream comes in, the turbine draws, sluice and weir keep the river alive. */
export function createReservoir(design: ReservoirDesign, initialLevel: number) {
  let level = initialLevel
  /** What stays in the river: sluice and spill [m³/s]. */
  const spillFlow = () =>
    design.weirCoefficient * design.crestWidth * Math.max(0, level - design.crest) ** 1.5
  const residualFlow = () =>
    design.sluiceFlow * Math.sqrt(Math.max(0, level) / design.sluiceLevel) + spillFlow()
  return {
    /** Above gauge zero [m]. */
    level: () => level,
    residualFlow,
    /** Its part over the weir [m³/s]. */
    spillFlow,
    step(dt: number, { inflow, turbine }: { inflow: number; turbine: number }): void {
      level += (dt * (inflow - turbine - residualFlow())) / design.area
    },
  }
}

/**
 * Share of the head that still acts when the water no longer covers the intake: falls from 1 to 0 over the
 * last `depth` metres, as air is drawn in.
 */
export function intakeCover(level: number, depth = 0.15): number {
  return Math.min(1, Math.max(0, level / depth))
}

/**
 * Head loss of a trash rack or strainer per discharge squared [s²/m⁵]: K = K_clean / (1 − blocked)².
 * The open area shrinks with the blocked share, and the loss goes with the velocity squared.
 *
 * @param clean Loss [m] of the clean rack at a discharge [m³/s].
 * @param blocked Share of the area that is blocked, 0 … <1.
 */
export function rackResistance(clean: { loss: number; atDischarge: number }, blocked: number): number {
  return clean.loss / clean.atDischarge ** 2 / (1 - blocked) ** 2
}
