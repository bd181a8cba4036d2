import '../../../style/traces.css'
import { PointsPanel } from '../pointsPanel.tsx'
import type { RunProps } from '../runProps.ts'
import { TraceGuidancePanel } from './traceGuidancePanel.tsx'
import { TracePanel } from './tracePanel.tsx'
import { TraceResultPanel } from './traceResultPanel.tsx'
import { TracesPanel } from './tracesPanel.tsx'

/** The middle of the screen of a run that records traces. */
export function TraceMain(props: RunProps) {
  const { reply, hold, actions } = props
  const trace = reply.trace!
  const view = reply.trial.trace!
  return (
    <>
      {trace.guidance && (
        <TraceGuidancePanel trial={reply.trial} view={view} guidance={trace.guidance} actions={actions} />
      )}
      <TraceResultPanel together={trace.together} />
      <TracePanel reply={reply} plant={hold.view.id} />
      <TracesPanel reply={reply} zone={hold.view.timeZone} actions={actions} />
      {reply.points.length > 0 && <PointsPanel {...props} />}
    </>
  )
}
