import { z } from 'zod'

/**
 * What replies are described with. A description stands once: the type that server and page share follows from it
 * (`z.output`), and so does what /api/openapi.json says. The page takes the types only: `import type`.
 */
export const number = z.number()
export const text = z.string()
export const flag = z.boolean()
/** Milliseconds since 1970 UTC. */
export const time = z.number()
export const timeOrNull = time.nullable()

/** An object inside a reply that is described no further; the compiler knows what is in it. */
export function objectOf<T extends object>(description: string): z.ZodType<T> {
  const isObject = (value: unknown) => typeof value === 'object' && value !== null && !Array.isArray(value)
  return z.custom<T>(isObject).meta({ type: 'object', description })
}

/** As people and programs send it. */
export const figureId = z.string().max(64)
export const textUpTo = (longest: number) => z.string().trim().max(longest)

/** From 1 on; also of digits in an address. */
export const whole = z.coerce.number().int().min(1)
