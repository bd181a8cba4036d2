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
