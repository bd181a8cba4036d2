import { useEffect, useRef } from 'preact/hooks'
import type { RunReply } from '../../../server/wire/trial.ts'
import { trialRequests } from '../../connect/trialRequests.ts'

/**
 * What the printer gets in place of the page: the server's record of the run, the same that is in the pack. It lies
 * in a shadow tree, so that neither its look nor the page's reaches the other.
 */
export function PrintRecord({ plant, reply }: { plant: string; reply: RunReply }) {
  const host = useRef<HTMLDivElement>(null)
  const { run, points } = reply
  const stamp = JSON.stringify([run, points.map((point) => [point.number, point.verdict, point.reason])])
  // A run under way changes with every point: its record is fetched when somebody presses Print.
  useEffect(() => {
    if (run.finishedAt === null) return undefined
    let isWanted = true
    void trialRequests.record(plant, run.id).then((html) => {
      if (isWanted && html !== null && host.current) fill(host.current, html)
    })
    return () => {
      isWanted = false
    }
  }, [stamp])
  return <div class="print-record" ref={host} aria-hidden="true" />
}

/** Fetches the newest record, then opens the printer's window. */
export async function printRun(plant: string, run: number): Promise<void> {
  const html = await trialRequests.record(plant, run)
  const host = document.querySelector<HTMLDivElement>('.print-record')
  if (html !== null && host) fill(host, html)
  window.print()
}

/** Before the record has come the page prints as it is. */
function fill(host: HTMLDivElement, html: string): void {
  // Taken out before the rest is read: the page allows no styles within documents, only sheets of its own making.
  const styles: string[] = []
  const bare = html.replace(/<style>([^<]*)<\/style>/g, (_, style: string) => {
    styles.push(style)
    return ''
  })
  const record = new DOMParser().parseFromString(bare, 'text/html')
  const look = new CSSStyleSheet()
  look.replaceSync(styles.join('\n'))
  const shadow = host.shadowRoot ?? host.attachShadow({ mode: 'open' })
  shadow.adoptedStyleSheets = [look]
  shadow.replaceChildren(...record.querySelectorAll('main'))
  host.dataset['ready'] = 'true'
}
