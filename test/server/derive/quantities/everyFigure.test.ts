import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { quantities } from '../../../../server/derive/quantities/index.ts'
import { constantPaths } from '../../../../server/plant/constants.ts'
import { readSite, siteFile } from '../../../../simulator/siteFile.ts'

/** Marks of where a number comes from; see DEVELOPERS.md, house rules. */
const SOURCE =
  /references \d|by hand|design sheet|power balance of the sheet|computed (?:example|for the project)|definition|from memory|no source|\b(?:IEC|ISO|IEEE|NEMA|JCGM)\b/i

/** Texts of those tests that say where their numbers come from. */
const sourced = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.test.ts') && !name.startsWith('everyFigure'))
  .concat('../storageWatch.test.ts')
  .flatMap((name) =>
    readFileSync(`${import.meta.dirname}/${name}`, 'utf8').split(/(?=^describe\(|^ {2}it(?:\.each|\())/m),
  )
  .filter((text) => SOURCE.test(text))
  .join('\n')

describe('every figure that Headrace computes', () => {
  it('is checked in this folder against a number whose source stands beside it', () => {
    const families = [...new Set(quantities.map(({ id }) => id.split('.')[0]!))]
    expect(families.filter((id) => !new RegExp(`'${id}(?:\\.\\d)?'`).test(sourced))).toEqual([])
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
