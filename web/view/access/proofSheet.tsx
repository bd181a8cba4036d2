import { useEffect, useRef } from 'preact/hooks'
import { accessRequests } from '../../connect/accessRequests.ts'
import { proofWish } from '../../connect/proof.ts'
import { Button } from '../parts/button.tsx'
import { AskForm, NameField } from './askForm.tsx'
import { useSecondFactor } from './secondFactorPanel.tsx'

/** Over the screen, which keeps what was typed: what was asked for goes on, or is given up, when this is answered. */
export function ProofSheet() {
  const sheet = useRef<HTMLDialogElement>(null)
  const answer = proofWish.value
  const second = useSecondFactor()
  useEffect(() => sheet.current?.showModal(), [])
  return (
    <dialog class="ask" ref={sheet} onClose={() => answer?.(false)} aria-labelledby="title-proof">
      <AskForm
        id="proof"
        title="Your password once more"
        deed="Go on"
        ask={({ password, secondFactor }) =>
          second.watch(accessRequests.prove({ password: password!, secondFactor }))
        }
        onDone={() => answer?.(true)}
      >
        <p class="hint">For changes to who gets in; it counts for ten minutes.</p>
        <NameField label="Password" name="password" type="password" autocomplete="current-password" />
        {second.field}
      </AskForm>
      <Button isSmall action="cancelProof" onClick={() => sheet.current?.close()}>
        Cancel
      </Button>
    </dialog>
  )
}
