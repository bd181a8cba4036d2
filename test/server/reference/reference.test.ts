import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { z } from 'zod'
import { alarmKinds } from '../../../server/alarms/kinds/index.ts'
import { quantities } from '../../../server/derive/quantities/index.ts'
import { roles } from '../../../server/plant/roles.ts'
import { referenceMarkdown } from '../../../server/reference/markdown.ts'
import { reference } from '../../../server/reference/reference.ts'
import { notifyFileJsonSchema, plantFileJsonSchema } from '../../../server/reference/schemas.ts'
import { THREE_SENSORS } from '../../support/plants.ts'
import { root } from '../../support/root.ts'

const at = (name: string) => join(root, 'server', 'reference', name)
const json = (schema: object) => `${JSON.stringify(schema, null, 2)}\n`

/** Bring the files up to date with `npx vitest run --config test/vitest.config.ts --project unit test/server/reference -u`. */
describe('the reference in the repository', () => {
  it('is what the code says', async () => {
    await expect(referenceMarkdown(reference())).toMatchFileSnapshot(at('reference.md'))
    await expect(json(reference())).toMatchFileSnapshot(at('reference.json'))
    await expect(json(plantFileJsonSchema())).toMatchFileSnapshot(at('plant.schema.json'))
    await expect(json(notifyFileJsonSchema())).toMatchFileSnapshot(at('notify.schema.json'))
  })

  it('names every role, figure and alarm kind', () => {
    const text = referenceMarkdown(reference())
    for (const { id } of [...roles, ...quantities, ...alarmKinds]) expect(text, id).toContain(id)
  })

  it('has a cell for every head, and none that is code', () => {
    for (const { heads, rows, id } of reference().tables) {
      expect(rows.length, id).toBeGreaterThan(0)
      for (const cells of rows) {
        expect(cells.length, `${id} ${cells[0]}`).toBe(heads.length)
        expect(cells.join(), id).not.toMatch(/undefined|\[object|=>/)
      }
    }
  })
})

// JSON Schema 2020-12, read by the schema library's own reader
describe('the schema of the plant file', () => {
  const schema = z.fromJSONSchema(plantFileJsonSchema() as Parameters<typeof z.fromJSONSchema>[0])
  const isTaken = (text: string) => schema.safeParse(parse(text)).success

  it.each(['quennerby', 'ostrelby', 'skelderwath'])('takes the plant file of %s', (site) => {
    const text = readFileSync(join(root, 'simulator', 'sites', `${site}.yaml`), 'utf8')
    expect(schema.safeParse(parse(text)).error?.issues ?? []).toEqual([])
  })

  it('takes a ± in every form that a plant file may have it in', () => {
    for (const bore of ['100 mm ± 1 mm', '{ value: 100 mm, plusMinus: 1 mm, distribution: normal }'])
      expect(isTaken(THREE_SENSORS.replace('100 mm', bore)), bore).toBe(true)
  })

  it.each([
    ['a key that there is not', 'use: offGrid', 'use: offGrid\ncolour: red'],
    ['a kind that there is not', 'kind: pelton', 'kind: waterwheel'],
    ['an instrument without topic', ', topic: mill/flow', ''],
  ])('refuses %s', (_what, from, to) => {
    expect(isTaken(THREE_SENSORS)).toBe(true)
    expect(isTaken(THREE_SENSORS.replace(from, to))).toBe(false)
  })
})
