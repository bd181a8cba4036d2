import { useEffect } from 'preact/hooks'

/** The screen in the room does not go dark while this is shown; browsers end it whenever the page is hidden. */
export function useStayAwake(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | null = null
    const ask = async () => {
      if (document.hidden) return
      // refused on a low battery, and unknown without HTTPS
      lock = (await navigator.wakeLock?.request('screen').catch(() => null)) ?? null
    }
    void ask()
    document.addEventListener('visibilitychange', ask)
    return () => {
      document.removeEventListener('visibilitychange', ask)
      void lock?.release()
    }
  }, [])
}
