import '../../../style/traces.css'
import { ChecksPanel } from '../checksPanel.tsx'
import { PointsPanel } from '../pointsPanel.tsx'
import type { TraceRunProps } from '../runProps.ts'
import { TraceGuidancePanel } from './traceGuidancePanel.tsx'
import { TracePanel } from './tracePanel.tsx'
import { TraceResultPanel } from './traceResultPanel.tsx'
import { TracesPanel } from './tracesPanel.tsx'

/** The middle of the screen of a run that records traces. */
export function TraceMain(props: TraceRunProps) {
  const { reply, hold, actions } = props
  return (
    <>
      {reply.guidance && (
        <TraceGuidancePanel trial={reply.trial} guidance={reply.guidance} actions={actions} />
      )}
      <TraceResultPanel together={reply.together} />
      <TracePanel reply={reply} plant={hold.view.id} />
      <ChecksPanel {...props} />
      <TracesPanel reply={reply} zone={hold.view.timeZone} actions={actions} />
      {reply.points.length > 0 && <PointsPanel {...props} />}
    </>
  )
}
