import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { type AddressInfo, createServer } from 'node:net'
import { afterAll, describe, expect, it } from 'vitest'
import type { PlantSummary } from '../../server/wire/plant.ts'
import { THREE_SENSORS } from '../support/plants.ts'
import { getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { startServer } from '../support/serverProcess.ts'

describe('a server that cannot start', () => {
  const scratch = scratchFolder()
  const plant = scratch.file('mill.yaml', THREE_SENSORS)
  afterAll(() => scratch.remove())

  /** Its words, when it ends before it is ready. */
  async function refusal(args: string[]): Promise<string> {
    const outcome = await startServer(args).then(
      async (server) => {
        await server.stop()
        return 'it started'
      },
      (error: Error) => error.message,
    )
    expect(outcome).toMatch(/ended with exit code 1 before it was ready/)
    return outcome.split('it wrote:\n')[1]!.trim()
  }

  const ports = ['--http-port', '0', '--mqtt-port', '0']

  it('names the HTTP port that is taken, in one line', async () => {
    const other = createServer()
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve))
    const { port } = other.address() as AddressInfo
    const words = await refusal([
      '--plant',
      plant,
      '--data',
      `${scratch.path}/a`,
      '--http-port',
      String(port),
      '--mqtt-port',
      '0',
    ])
    other.close()
    expect(words).toBe(`Port ${port} on 127.0.0.1 is already in use. Choose another with --http-port.`)
  })

  it('names the MQTT port that is taken, in one line', async () => {
    const other = createServer()
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve))
    const { port } = other.address() as AddressInfo
    const words = await refusal([
      '--plant',
      plant,
      '--data',
      `${scratch.path}/b`,
      '--http-port',
      '0',
      '--mqtt-port',
      String(port),
    ])
    other.close()
    expect(words).toMatch(new RegExp(`^Port ${port} on 127.0.0.1 is already in use`))
    expect(words.split('\n').length).toBe(1)
  })

  it('names the data folder that cannot be written, in one line', async () => {
    const words = await refusal(['--plant', plant, '--data', `${plant}/data`, ...ports])
    expect(words).toMatch(
      /^The data folder .*mill\.yaml\/data cannot be written: .*\. Choose another with --data\.$/,
    )
  })

  it('names the data folder that another server uses, in one line', async () => {
    const first = await startServer(['--plant', plant, '--data', `${scratch.path}/c`, ...ports])
    const words = await refusal(['--plant', plant, '--data', `${scratch.path}/c`, ...ports])
    await first.stop()
    expect(words).toMatch(/^Another Headrace server is using the data folder .*--data\.$/)
  })

  it.each(['state.db', 'people.db'])(
    'names %s where it is damaged, in one line, and leaves it as it is',
    async (name) => {
      const folder = `${scratch.path}/damaged-${name}`
      mkdirSync(folder)
      const damaged = Buffer.alloc(8192, 7)
      writeFileSync(`${folder}/${name}`, damaged)
      const words = await refusal(['--plant', plant, '--data', folder, ...ports])
      expect(words).toMatch(new RegExp(`^.*${name} cannot be read: .*not a database.*--data\\.$`))
      expect(readFileSync(`${folder}/${name}`)).toEqual(damaged)
    },
  )

  it('lists every fault of every plant file', async () => {
    const wrong = scratch.file(
      'wrong.yaml',
      THREE_SENSORS.replace('kind: pelton', 'kind: wheel').replace('id: mill', 'id: 7 mill'),
    )
    const words = await refusal([
      '--plant',
      wrong,
      '--plant',
      `${scratch.path}/none.yaml`,
      '--data',
      `${scratch.path}/d`,
      ...ports,
    ])
    expect(words).toMatch(/wrong\.yaml:3: id: found "7 mill", expected an id/)
    expect(words).toMatch(/wrong\.yaml:\d+: turbine\.kind: found "wheel"/)
    expect(words).toMatch(/none\.yaml: cannot be read/)
  })
})

describe('a running server whose plant file changes', () => {
  const scratch = scratchFolder()
  afterAll(() => scratch.remove())

  it('keeps the old plant when the file is wrong, says why, and takes a right one over', async () => {
    const plant = scratch.file('mill.yaml', THREE_SENSORS)
    const server = await startServer([
      '--plant',
      plant,
      '--data',
      scratch.path,
      '--http-port',
      '0',
      '--mqtt-port',
      '0',
    ])
    const names = async () =>
      (await getJson<PlantSummary[]>(`${server.url}/api/plants`)).map((one) => one.name)
    scratch.file('mill.yaml', THREE_SENSORS.replace('use: offGrid', 'use: moon'))
    await until(
      async () => server.output(),
      (text) => /use: found "moon"/.test(text) && /run on as they were/.test(text),
    )
    expect(await names()).toEqual(['Test mill'])
    scratch.file('mill.yaml', THREE_SENSORS.replace('name: Test mill', 'name: New mill'))
    expect(await until(names, ([name]) => name === 'New mill')).toEqual(['New mill'])
    await server.stop()
  })
})
