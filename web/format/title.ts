/** What the browser's tab says: "(2) Mill · Headrace" while two alarms wait for an answer. */
export function pageTitle(screen: string, unacknowledged = 0): string {
  return `${unacknowledged > 0 ? `(${unacknowledged}) ` : ''}${screen} · Headrace`
}
