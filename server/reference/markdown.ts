import type { Reference } from '../wire/reference.ts'

const escaped = (text: string) => text.replaceAll('|', '\\|').replaceAll('<', '&lt;')

/** The reference as a page of the repository. */
export function referenceMarkdown({ tables }: Reference): string {
  const parts = tables.map(({ title, says, heads, rows }) =>
    [
      `## ${title}`,
      '',
      escaped(says),
      '',
      `| ${heads.join(' | ')} |`,
      `|${heads.map(() => '---|').join('')}`,
      ...rows.map((cells) => `| ${cells.map(escaped).join(' | ')} |`),
    ].join('\n'),
  )
  return [
    '# Reference',
    '',
    'Made from the code, and held to it by a test (`npm test -- unit reference`); the running server shows the same under `#/reference`.',
    'Editors complete and check plant and notification files with `plant.schema.json` and `notify.schema.json` beside this page,',
    'which a running server has at `/plant.schema.json` and `/notify.schema.json`.',
    '',
    parts.join('\n\n'),
    '',
  ].join('\n')
}
