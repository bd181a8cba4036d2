import { useSignal } from '@preact/signals'
import type { Answer } from './http.ts'

/** For what a person asks the server to do: hands on the reply, or keeps why it was refused. */
export function useDeed() {
  /** Why the last deed was not done; "" when it was. */
  const error = useSignal('')
  /** The reply; null when the server would not, or did not answer. */
  const act = async <T>(deed: Promise<Answer<T>>): Promise<T | null> => {
    const answer = await deed
    error.value = answer.ok ? '' : answer.error
    return answer.ok ? answer.reply : null
  }
  return { error, act }
}
