import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { AlertSound } from '../../connect/alertSound.ts'
import { Button } from './button.tsx'

export const AlertSoundContext = createContext<AlertSound | null>(null)

/** The one tap of consent: sound, and on a phone vibration, until somebody acknowledges. */
export function SoundButton() {
  const sound = useContext(AlertSoundContext)
  if (!sound) return null
  const isOn = sound.isOn.value
  return (
    <Button
      isSmall
      action="sound"
      aria-pressed={isOn}
      title="Sound and vibration in this browser while an over-speed or a trip is not acknowledged"
      onClick={() => sound.turn(!isOn)}
    >
      Sound {isOn ? 'on' : 'off'}
    </Button>
  )
}

/** In the strip: quiet until the next one comes. */
export function SilenceButton() {
  const sound = useContext(AlertSoundContext)
  if (!sound?.isSounding()) return null
  if (sound.isAsleep.value) return <span class="small">Tap anywhere for sound</span>
  return (
    <Button action="silence" onClick={sound.silence}>
      Silence
    </Button>
  )
}
