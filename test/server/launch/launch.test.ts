import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { root } from '../../support/root.ts'

const script = join(root, 'server/launch.mjs')
const launch = (args: string[], nodeArgs: string[] = []) =>
  spawnSync(process.execPath, [...nodeArgs, script, ...args], { encoding: 'utf8', timeout: 20_000 })

/** Makes Node believe that it is another version, before the script runs. */
const pretend = (version: string) => [
  '--import',
  `data:text/javascript,Object.defineProperty(process,'versions',{value:{...process.versions,node:'${version}'}})`,
]

describe('npm start', () => {
  it.each(['20.18.3', '18.20.8', '6.17.1'])('refuses Node %s in one sentence', (version) => {
    const { status, stderr } = launch([], pretend(version))
    expect(stderr).toBe(`Headrace needs Node 20.19 or newer, this is ${version}\n`)
    expect(status).toBe(1)
  })

  it('asks for the same Node as package.json', () => {
    const { engines } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
    expect(launch([], pretend('1.0.0')).stderr).toContain(
      `needs Node ${engines.node.replace('>=', '')} or newer`,
    )
  })

  it('refuses to run what there is not', () => {
    const { status, stderr } = launch(['--run', 'turbine'], pretend('20.19.0'))
    expect(stderr).toBe('--run: found "turbine", expected one of server, simulator\n')
    expect(status).toBe(1)
  })

  it('is written so that a Node of long ago can read it', () => {
    // Node 13 knows import() but neither of these: optional chaining, "??", await outside functions, "node:" names
    const code = readFileSync(script, 'utf8')
    expect(code).not.toMatch(/\?\.|\?\?|^await |^import [^(]|['"]node:/m)
  })
})
