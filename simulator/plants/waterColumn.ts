/** Pipe between a source of head and an outlet. */
export interface PipeDesign {
  /** Inner diameter [m]. */
  bore: number
  length: number
  /** Sand roughness [m]. */
  roughness: number
  /** ΣK of bends, valves and inlet. */
  minorLoss: number
  /** Kinematic viscosity [m²/s]. */
  viscosity: number
  gravity: number
}

export interface Outlet {
  /** Head at the source [m] above the outlet. */
  drivingHead: number
  /** Further losses before the outlet as head per discharge squared [s²/m⁵]; Infinity behind a shut valve. */
  extraLoss: number
  /** Head that drives the outlet per discharge squared [s²/m⁵]; Infinity when shut. */
  outletResistance: number
}

/**
 * Rigid water column: L/(gA) · dQ/dt = H_source − K·Q² − R·Q², solved implicitly so that any outlet
 * resistance, up to shut, stays stable. Friction after Colebrook and White, one iteration a step.
 *
 * Limits: no elasticity of water and pipe, so closures faster than a few 2L/a are smoothed out.
 */
export function createWaterColumn(pipe: PipeDesign, initialDischarge: number) {
  const area = (Math.PI / 4) * pipe.bore ** 2
  const inertance = pipe.length / (pipe.gravity * area)
  const velocityHeadPerQ2 = 1 / (2 * pipe.gravity * area ** 2)
  let discharge = initialDischarge
  let outletHead = 0
  let friction = settledFriction(pipe, initialDischarge / area)
  const resistance = () => ((friction * pipe.length) / pipe.bore + pipe.minorLoss) * velocityHeadPerQ2
  return {
    discharge: () => discharge,
    /** Head in front of the outlet [m]. */
    outletHead: () => outletHead,
    /** Head lost in the pipe itself [m]. */
    pipeLoss: () => resistance() * discharge ** 2,
    velocity: () => discharge / area,
    /** Kinetic energy [J]. */
    energy: (density: number) => (0.5 * density * pipe.length * discharge ** 2) / area,
    step(dt: number, { drivingHead, extraLoss, outletResistance }: Outlet): void {
      friction = nextFriction(friction, pipe, discharge / area)
      const upstream = resistance() + extraLoss
      if (!Number.isFinite(upstream + outletResistance)) {
        discharge = 0
        outletHead = Number.isFinite(upstream) ? drivingHead : 0
        return
      }
      const b = (dt / inertance) * (upstream + outletResistance)
      const c = Math.max(0, discharge + (dt / inertance) * drivingHead)
      discharge = (2 * c) / (1 + Math.sqrt(1 + 4 * b * c))
      outletHead = outletResistance * discharge ** 2
    },
  }
}

function settledFriction(pipe: PipeDesign, velocity: number): number {
  let friction = 0.02
  for (let i = 0; i < 30; i++) friction = nextFriction(friction, pipe, velocity)
  return friction
}

/** One fixed-point iteration of 1/√f = −2·lg(ε/3.7D + 2.51/(Re·√f)); laminar below Re 2300. */
function nextFriction(friction: number, pipe: PipeDesign, velocity: number): number {
  const reynolds = (velocity * pipe.bore) / pipe.viscosity
  // Still water loses no head, whatever the factor.
  if (reynolds < 100) return friction
  if (reynolds < 2300) return 64 / reynolds
  const inner = pipe.roughness / (3.7 * pipe.bore) + 2.51 / (reynolds * Math.sqrt(friction))
  return (2 * Math.log10(inner)) ** -2
}
