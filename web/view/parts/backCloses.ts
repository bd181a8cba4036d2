import { useEffect } from 'preact/hooks'

/** Back closes what lies over the screen, instead of leaving the screen. */
export function useBackCloses(isOpen: boolean, close: () => void): void {
  useEffect(() => {
    if (!isOpen) return
    history.pushState({ isOver: true }, '')
    addEventListener('popstate', close)
    return () => {
      removeEventListener('popstate', close)
      // closed by its own button: what was put on the way back is taken off again
      if ((history.state as { isOver?: boolean } | null)?.isOver) history.back()
    }
  }, [isOpen])
}
