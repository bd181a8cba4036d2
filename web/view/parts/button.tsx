import { useSignal } from '@preact/signals'
import type { ButtonHTMLAttributes, ComponentChildren } from 'preact'

interface ButtonProps extends Omit<ButtonHTMLAttributes, 'action' | 'onClick'> {
  /** Its name for tests and styles: what it does. */
  action?: string
  /** Among words or beside a title. */
  isSmall?: boolean
  onClick?: () => unknown
}

/** A button. */
export function Button({ action, isSmall = false, type = 'button', onClick, ...attributes }: ButtonProps) {
  return (
    <button
      type={type}
      class={isSmall ? 'press press-small' : 'press'}
      data-action={action}
      onClick={() => void onClick?.()}
      {...attributes}
    />
  )
}

interface ConfirmProps {
  action: string
  /** On the button that asks. */
  word: string
  question?: ComponentChildren
  yes: string
  no: string
  deed: () => unknown
  /** Beside the button, as long as nothing is asked. */
  children?: ComponentChildren
}

/** A deed that is asked back for, since it cannot be undone. */
export function Confirm({ action, word, question, yes, no, deed, children }: ConfirmProps) {
  const isAsked = useSignal(false)
  if (!isAsked.value)
    return (
      <>
        <Button action={action} onClick={() => (isAsked.value = true)}>
          {word}
        </Button>{' '}
        {children}
      </>
    )
  return (
    <>
      {question}{' '}
      <Button action={`${action}-really`} onClick={deed}>
        {yes}
      </Button>{' '}
      <Button onClick={() => (isAsked.value = false)}>{no}</Button>
    </>
  )
}

interface FigureLinkProps {
  figure: string
  open: (figure: string) => void
  /** Where its words do not name the figure. */
  title?: string
  children: ComponentChildren
}

/** Words that open the details of a figure. */
export function FigureLink({ figure, open, title, children }: FigureLinkProps) {
  return (
    <button type="button" class="as-link" title={title} onClick={() => open(figure)} data-open={figure}>
      {children}
    </button>
  )
}
