import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { type PlantFilesResult, readPlantFiles } from '../../server/plantFiles.ts'
import { createPlantFollower, readPlantFilesAside } from '../../server/plantReader.ts'
import { emptyFolder } from '../support/historyFolder.ts'
import { root } from '../support/root.ts'

const SITES = ['quennerby', 'skelderwath'].map((id) => join(root, 'simulator', 'sites', `${id}.yaml`))

describe('plant files read in a thread of their own', () => {
  it('are the same plants', async () => {
    expect(await readPlantFilesAside(SITES)).toEqual(readPlantFiles(SITES))
  }, 60_000)

  it('have the same complaints', async () => {
    const file = join(emptyFolder(), 'wrong.yaml')
    writeFileSync(file, 'id: mill\nname: Mill\ninstruments: 7\n')
    const result = await readPlantFilesAside([file, `${file}.none`])
    expect(result).toEqual(readPlantFiles([file, `${file}.none`]))
    expect('complaints' in result && result.complaints.length).toBeGreaterThan(1)
  }, 60_000)
})

describe('a follower of plant files', () => {
  function follow() {
    const taken: PlantFilesResult[] = []
    const answers: ((result: PlantFilesResult) => void)[] = []
    const follower = createPlantFollower(
      () => new Promise((resolve) => answers.push(resolve)),
      (result) => taken.push(result),
    )
    const answer = async (complaint: string) => {
      answers.shift()!({ complaints: [complaint] })
      await new Promise(setImmediate)
    }
    return { follower, answer, taken, waiting: () => answers.length }
  }

  it('takes over what was read last when the file changed while it was being read', async () => {
    const { follower, answer, taken, waiting } = follow()
    follower.changed()
    follower.changed()
    follower.changed()
    expect(waiting()).toBe(1)
    await answer('first')
    expect([waiting(), taken]).toEqual([1, []])
    await answer('last')
    expect([waiting(), taken]).toEqual([0, [{ complaints: ['last'] }]])
    follower.changed()
    expect(waiting()).toBe(1)
  })

  it('takes nothing over once the server is closing', async () => {
    const { follower, answer, taken } = follow()
    follower.changed()
    follower.close()
    await answer('late')
    expect(taken).toEqual([])
  })
})
