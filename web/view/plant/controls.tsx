import { type Signal, useSignal } from '@preact/signals'
import { formatNumber, formatStep } from '../../../server/wire/numbers.ts'
import type { SimulatorControl } from '../../../server/wire/plant.ts'
import { printUnit } from '../../../server/wire/units.ts'
import { useDeed } from '../../connect/deed.ts'
import { http } from '../../connect/http.ts'
import { may } from '../../connect/person.ts'
import type { PlantHold } from '../../hold/plantHold.ts'
import { Choice } from '../parts/fields.tsx'
import { Fold } from '../parts/fold.tsx'
import { useLastKnown } from '../parts/ground.tsx'
import { Panel } from '../parts/panel.tsx'
import { RightHint } from '../parts/refusal.tsx'

/** Controls that a phone shows without being asked. */
const FIRST = 3

/** What makes things happen comes first: a newcomer looks for it. */
const isStory = ({ id }: SimulatorControl) => id === 'scenario' || id === 'fault'

type Setting = SimulatorControl['initial']

/** Handles of the simulator. Only simulated plants have any. */
export function ControlPanel({ hold }: { hold: PlantHold }) {
  const { controls, id, simulated } = hold.view
  if (controls.length === 0 || !simulated) return null
  const at = useLastKnown()
  const ordered = [...controls].sort((a, b) => Number(isStory(b)) - Number(isStory(a)))
  return (
    <Panel id="controls" title="Simulator">
      <p class="hint">These change the simulated plant only. This software never commands a real plant.</p>
      <RightHint action="simulate" />
      {at !== null && <p class="alarm-request">Out of use until the server answers again.</p>}
      <fieldset disabled={at !== null || !may('simulate')} aria-label="Controls of the simulator">
        <Controls controls={ordered.slice(0, FIRST)} hold={hold} plant={id} />
        {ordered.length > FIRST && (
          <Fold title="More controls" note={`${ordered.length - FIRST}`}>
            <Controls controls={ordered.slice(FIRST)} hold={hold} plant={id} />
          </Fold>
        )}
      </fieldset>
    </Panel>
  )
}

function Controls({ controls, ...rest }: Omit<ControlProps, 'control'> & { controls: SimulatorControl[] }) {
  return (
    <div class="controls">
      {controls.map((control) => (
        <Control key={control.id} control={control} {...rest} />
      ))}
    </div>
  )
}

interface ControlProps {
  control: SimulatorControl
  hold: PlantHold
  plant: string
}

function Control({ control, hold, plant }: ControlProps) {
  const setting = useSignal<Setting>(presentSetting(control, hold))
  const { error, act } = useDeed()
  const apply = async (value: Setting) => {
    const before = setting.value
    setting.value = value
    if (!(await act(http.simulator(plant, control.id, value)))) setting.value = before
  }
  return (
    <div class={`control control-${control.kind}`}>
      <Handle control={control} setting={setting} apply={apply} />
      {error.value && (
        <p class="alarm-request" role="status">
          Not set: {error.value}
        </p>
      )}
    </div>
  )
}

interface HandleProps {
  control: SimulatorControl
  setting: Signal<Setting>
  apply: (value: Setting) => void
}

function Handle(props: HandleProps) {
  if (props.control.kind === 'switch') return <Switch {...props} />
  if (props.control.kind === 'slider') return <Slider {...props} />
  return <Selection {...props} />
}

function Switch({ control, setting, apply }: HandleProps) {
  const isOn = setting.value === true || setting.value === 1
  return (
    <label class="switch">
      <input
        type="checkbox"
        role="switch"
        data-control={control.id}
        checked={isOn}
        aria-checked={isOn}
        onChange={(event) => apply(event.currentTarget.checked)}
      />
      <span>{control.name}</span>
      <span class="muted" aria-hidden="true">
        {isOn ? 'on' : 'off'}
      </span>
    </label>
  )
}

function Slider({ control, setting, apply }: HandleProps) {
  const unit = printUnit(control.unit ?? '1')
  return (
    <label class="slider">
      <span>{control.name}</span>
      <output>
        <span class="number">{sliderText(Number(setting.value), control)}</span> {unit}
      </output>
      <input
        type="range"
        data-control={control.id}
        min={control.min ?? 0}
        max={control.max ?? 1}
        step={control.step ?? 'any'}
        value={Number(setting.value)}
        onInput={(event) => {
          setting.value = event.currentTarget.valueAsNumber
        }}
        onChange={(event) => apply(event.currentTarget.valueAsNumber)}
      />
    </label>
  )
}

function sliderText(value: number, { step, max }: SimulatorControl): string {
  return step ? formatStep(value, step) : formatNumber(value, { usual: max }).text
}

function Selection({ control, setting, apply }: HandleProps) {
  return (
    <label class="choice">
      <span>{control.name}</span>
      <Choice
        data-control={control.id}
        value={String(setting.value)}
        options={control.choices ?? []}
        choose={apply}
      />
    </label>
  )
}

/** Where the plant reports the setting, that is where the handle stands at first. */
function presentSetting(control: SimulatorControl, hold: PlantHold): Setting {
  const figure = control.figure ? hold.byId.get(control.figure) : undefined
  const value = figure?.value.peek().value ?? null
  if (!figure || value === null || control.kind === 'choice') return control.initial
  if (control.kind === 'switch') return value > 0.5
  return figure.description.viewUnit === control.unit ? figure.unit.value(value) : value
}
