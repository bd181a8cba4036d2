import type { CertificatePair } from './certificate.ts'
import { createAsking } from './channel/asking.ts'
import type { PageOptions, Plants, ToPage, ToWatch } from './channel/messages.ts'
import type { PageEdges } from './edges.ts'
import { createMirror, type Mirror } from './mirror/mirror.ts'
import { createPageSide, type PageSide } from './pageSide.ts'
import { StartRefused } from './state/openState.ts'

/** The page side at its end of the channel. */
export interface RunningPage {
  take(message: ToPage): void
  /** Stops listening and stores what is in hand. */
  close(): Promise<void>
}

export interface RunPageParts {
  /** Opens what the page side touches; called once, with the options that the watch gave. @throws {StartRefused} */
  open(options: PageOptions): PageEdges
  post(message: ToWatch): void
  /** It serves. */
  onOpen?(pageSide: PageSide): void
  /** The watch asked it to end, and it has. */
  onClosed(): void
}

/** Runs the page side from what comes over the channel: options first, then the plants, then what happens there. */
export function runPage({ open, post, onOpen, onClosed }: RunPageParts): RunningPage {
  let edges: PageEdges | undefined
  let mirror: Mirror | undefined
  let asking: ReturnType<typeof createAsking> | undefined
  let pageSide: PageSide | undefined

  /** A refusal is a sentence for whoever starts the server; everything else is a fault of ours and ends the process. */
  function refusing(task: () => void): void {
    try {
      task()
    } catch (error) {
      refuse(error)
    }
  }

  function refuse(error: unknown): void {
    if (!(error instanceof StartRefused)) throw error
    post({ kind: 'refused', sentence: error.message })
  }

  function begin(first: Plants): void {
    if (!edges) return
    const { clock, tell } = edges
    asking = createAsking({ post, clock })
    mirror = createMirror(first, { clock, tell })
    pageSide = createPageSide({ mirror, ask: asking.ask, asking: asking.queue }, edges)
    onOpen?.(pageSide)
    void pageSide.open().then((url) => post({ kind: 'open', url }), refuse)
  }

  function useCertificate(certificate: CertificatePair): void {
    if (edges) edges = { ...edges, options: { ...edges.options, certificate } }
    pageSide?.useCertificate(certificate)
  }

  async function close(): Promise<void> {
    await pageSide?.close()
  }

  post({ kind: 'here' })
  return {
    close,
    take(message) {
      if (message.kind === 'start')
        refusing(() => {
          edges = open(message.options)
        })
      else if (message.kind === 'close') void close().then(onClosed)
      else if (message.kind === 'certificate') useCertificate(message.pair)
      else if (message.kind === 'answer') asking?.onAnswer(message.id, message.outcome)
      else if (mirror) mirror.take(message)
      else if (message.kind === 'plants') refusing(() => begin(message))
      if (message.kind === 'tick') post({ kind: 'taken', tick: message.tick })
    },
  }
}
