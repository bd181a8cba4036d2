import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { quantities } from '../../../../server/derive/quantities/index.ts'
import { constantPaths } from '../../../../server/plant/constants.ts'
import { readSite, siteFile } from '../../../../simulator/siteFile.ts'

const tests = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.test.ts') && !name.startsWith('everyFigure'))
  .map((name) => readFileSync(`${import.meta.dirname}/${name}`, 'utf8'))
  .concat(readFileSync(`${import.meta.dirname}/../steadiness.test.ts`, 'utf8'))
  .join('\n')

describe('every figure that Headrace computes', () => {
  it('is checked against a number from outside in this folder', () => {
    const families = [...new Set(quantities.map(({ id }) => id.split('.')[0]!))]
    expect(families.filter((id) => !new RegExp(`'${id}(?:\\.\\d)?'`).test(tests))).toEqual([])
  })

  it('has its own id', () => {
    const ids = quantities.map((one) => one.id)
    expect(ids.filter((id, i) => ids.indexOf(id) < i)).toEqual([])
  })

  it('names its source, and constants that the plant file has', () => {
    for (const { id, ways } of quantities)
      for (const way of ways) {
        expect(way.source.length, id).toBeGreaterThan(3)
        const floors = (way.valid ?? []).flatMap((floor) => Object.values(floor.constants ?? {}))
        for (const path of [...Object.values(way.constants ?? {}), ...floors])
          expect(constantPaths, `${id}: ${path}`).toContain(path)
      }
  })

  it('can take every number of the simulated plants as a constant by its path', () => {
    for (const id of ['quennerby', 'ostrelby', 'skelderwath']) {
      const site = readSite(siteFile(id))
      const paths = 'plant' in site ? [...site.plant.constants.keys()] : []
      expect(paths.length).toBeGreaterThan(20)
      expect(paths.filter((path) => !constantPaths.includes(path))).toEqual([])
    }
  })
})
