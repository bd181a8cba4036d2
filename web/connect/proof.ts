import { signal } from '@preact/signals'

/** While a request waits for the password to be shown once more: call with whether it was. */
export const proofWish = signal<((isShown: boolean) => void) | null>(null)

let asked: Promise<boolean> | null = null

/** Asks whoever sits here, in one sheet for all requests that wait; @returns whether the password was shown. */
export function askForProof(): Promise<boolean> {
  asked ??= new Promise((resolve) => {
    proofWish.value = (isShown) => {
      proofWish.value = null
      asked = null
      resolve(isShown)
    }
  })
  return asked
}
