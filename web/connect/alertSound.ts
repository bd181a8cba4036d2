import { effect, type ReadonlySignal, signal } from '@preact/signals'

/** How often it sounds again while nobody has acknowledged [ms]. */
const AGAIN_MS = 3000
/** Three short notes, so that it is not taken for the sound of anything that is all right. */
const NOTES = [
  { at: 0, hertz: 880 },
  { at: 0.25, hertz: 660 },
  { at: 0.5, hertz: 880 },
]
const NOTE_S = 0.18
const LOUDNESS = 0.4
const VIBRATION = [300, 120, 300, 120, 300]
const KEPT_AS = 'headrace-sound'

/**
 * Sounds and vibrates while `isWanted`, once a person has asked for it: browsers let a page be heard only after a tap, so
 * after a reload the first tap anywhere wakes it again.
 */
export function createAlertSound(isWanted: ReadonlySignal<boolean>) {
  const isOn = signal(localStorage.getItem(KEPT_AS) === 'on')
  /** True while it was asked for, and the browser still waits for a tap. */
  const isAsleep = signal(isOn.peek())
  /** Silenced until it is next wanted. */
  const isSilenced = signal(false)
  let audio: AudioContext | null = null

  async function wake(): Promise<void> {
    if (!isOn.peek()) return
    audio ??= new AudioContext()
    await audio.resume()
    isAsleep.value = audio.state !== 'running'
  }

  function sound(): void {
    navigator.vibrate?.(VIBRATION)
    if (audio?.state !== 'running') return
    for (const { at, hertz } of NOTES) play(audio, audio.currentTime + at, hertz)
  }

  const stop = effect(() => {
    if (!isWanted.value) {
      isSilenced.value = false
      return
    }
    if (!isOn.value || isAsleep.value || isSilenced.value) return
    sound()
    const timer = setInterval(sound, AGAIN_MS)
    return () => clearInterval(timer)
  })
  const onTap = () => void wake()
  document.addEventListener('pointerdown', onTap)
  document.addEventListener('keydown', onTap)

  return {
    isOn,
    isAsleep,
    isSounding: () => isWanted.value && isOn.value && !isSilenced.value,
    turn(on: boolean): void {
      isOn.value = on
      localStorage.setItem(KEPT_AS, on ? 'on' : 'off')
      if (on) void wake()
    },
    silence(): void {
      isSilenced.value = true
    },
    close(): void {
      stop()
      document.removeEventListener('pointerdown', onTap)
      document.removeEventListener('keydown', onTap)
      void audio?.close()
    },
  }
}

export type AlertSound = ReturnType<typeof createAlertSound>

/** Swells and fades within a hundredth of a second: a note that is cut off clicks. */
function play(audio: AudioContext, from: number, hertz: number): void {
  const [note, level] = [audio.createOscillator(), audio.createGain()]
  note.frequency.value = hertz
  level.gain.setValueAtTime(0, from)
  level.gain.linearRampToValueAtTime(LOUDNESS, from + 0.01)
  level.gain.setValueAtTime(LOUDNESS, from + NOTE_S - 0.01)
  level.gain.linearRampToValueAtTime(0, from + NOTE_S)
  note.connect(level).connect(audio.destination)
  note.start(from)
  note.stop(from + NOTE_S)
}
