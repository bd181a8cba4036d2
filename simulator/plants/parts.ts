/** Something that travels towards a target at a limited rate: a valve, a spear, vanes, a drive. */
export function createServo(initial: number) {
  let position = initial
  return {
    position: () => position,
    /** `rate` [1/s]: share of the stroke per second. */
    step(dt: number, target: number, rate: number): void {
      const travel = rate * dt
      position += Math.min(Math.max(target - position, -travel), travel)
    },
  }
}

/** Everything that turns together: J · dω/dt = ΣT, fourth-order Runge-Kutta. Friction stops a rotor; it never turns it backwards. */
export function createRotor(initialSpeed: number) {
  let speed = initialSpeed
  return {
    /** [rad/s] */
    speed: () => speed,
    /** `torque` gives the sum of all torques [N·m] at a speed; `inertia` [kg·m²] may change between steps. */
    step(dt: number, inertia: number, torque: (speed: number) => number): void {
      const a = torque(speed) / inertia
      const b = torque(speed + 0.5 * dt * a) / inertia
      const c = torque(speed + 0.5 * dt * b) / inertia
      const d = torque(speed + dt * c) / inertia
      speed = Math.max(0, speed + (dt / 6) * (a + 2 * b + 2 * c + d))
    },
  }
}

/** How much warmer than the air a part gets in the end at rated heat [K], and its time constant [s]. */
export interface Warming {
  rise: number
  timeConstant: number
}

/**
 * A body that is warmed by losses and cooled by the air: τ · dT/dt = ΔT_rated · P/P_rated − (T − T_air).
 *
 * @param at Rated heat [W], the air [K], and the heat that it has settled at in the beginning as a share of the rated.
 */
export function createThermalNode(
  { rise, timeConstant }: Warming,
  { heat: rated, air, share }: { heat: number; air: number; share: number },
) {
  let temperature = air + share * rise
  return {
    /** [K] */
    temperature: () => temperature,
    step(dt: number, heat: number): void {
      temperature += (dt / timeConstant) * ((rise * heat) / rated - (temperature - air))
    },
  }
}

/**
 * Hard-wired switch: trips when a level is passed, after its own delay and stays tripped until it is reset.
 *
 * @param delay From the level being passed to the contact having moved [s].
 */
export function createTripSwitch(delay: number) {
  let tripped = false
  let beyondFor = 0
  return {
    isTripped: () => tripped,
    reset(): void {
      tripped = false
      beyondFor = 0
    },
    step(dt: number, isBeyond: boolean): void {
      beyondFor = isBeyond ? beyondFor + dt : 0
      if (beyondFor >= delay && isBeyond) tripped = true
    },
  }
}

/**
 * A slowly wandering amount: first-order noise (Ornstein-Uhlenbeck), mean 0, standard deviation `sigma`, memory
 * `timeConstant` [s]. Stays at exactly 0 without random numbers.
 */
export function createWander(
  random: (() => number) | undefined,
  { sigma, timeConstant }: { sigma: number; timeConstant: number },
) {
  let x = 0
  return {
    value: () => x,
    step(dt: number): void {
      if (!random) return
      // A centred uniform number has variance 1/12; over many steps the sum is normal.
      const kick = (random() - 0.5) * Math.sqrt((12 * 2 * dt) / timeConstant)
      x += (-x * dt) / timeConstant + sigma * kick
    },
  }
}

export interface DumpDesign {
  /** With all of it switched on [W]. */
  power: number
  /** Signal at which it begins, and at which it is full on (bus voltage [V] or frequency [Hz]). */
  from: number
  full: number
  /** Response of the regulator [s]. */
  lag: number
  warming: Warming
}

/** A heater that takes what is too much, more of it the further `signal` rises through a band. */
export function createDumpLoad(design: DumpDesign, { duty: initial, air }: { duty: number; air: number }) {
  const element = createThermalNode(design.warming, { heat: design.power, air, share: initial })
  let duty = initial
  return {
    /** Share of full power that is switched on, 0 … 1. */
    duty: () => duty,
    temperature: element.temperature,
    /** @param power What it turns into heat [W]. */
    step(dt: number, signal: number, power: number): void {
      const wanted = Math.min(1, Math.max(0, (signal - design.from) / (design.full - design.from)))
      duty += ((wanted - duty) * dt) / design.lag
      element.step(dt, power)
    },
  }
}
