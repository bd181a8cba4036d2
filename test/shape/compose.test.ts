import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { root } from '../support/root.ts'

/** What is looked at here of a file of the Compose Specification. */
interface ComposeFile {
  services: Record<string, ComposeService>
  volumes: Record<string, unknown>
  configs: Record<string, unknown>
}

interface ComposeService {
  image?: string
  profiles?: string[]
  ports?: string[]
  volumes?: string[]
  configs?: { source: string }[]
  depends_on?: Record<string, { condition: string }>
  healthcheck?: object
}

const text = (name: string) => readFileSync(join(root, name), 'utf8')
const compose: ComposeFile = parse(text('docker-compose.yml'))

describe('docker-compose.yml', () => {
  const services = Object.entries(compose.services)

  it('declares every volume and config that a service names', () => {
    const named = services.flatMap(([, { volumes = [], configs = [] }]) => [
      ...volumes.map((volume) => volume.split(':')[0]!).filter((source) => !/^[./]/.test(source)),
      ...configs.map((config) => config.source),
    ])
    const declared = [...Object.keys(compose.volumes), ...Object.keys(compose.configs)]
    expect(named.toSorted()).toEqual(declared.toSorted())
  })

  it('waits only for services that have a health check and that no profile leaves out', () => {
    const waitedFor = services.flatMap(([, { depends_on = {} }]) => Object.entries(depends_on))
    expect(waitedFor).toEqual([['mosquitto', { condition: 'service_healthy' }]])
    const broker = compose.services['mosquitto']!
    expect([broker.healthcheck, broker.profiles]).toEqual([expect.anything(), undefined])
  })

  it('opens every port to this machine only', () => {
    const ports = Object.values(compose.services).flatMap((service) => service.ports ?? [])
    expect(ports.filter((port) => !port.startsWith('127.0.0.1:'))).toEqual([])
    expect(ports.length).toBeGreaterThan(0)
  })

  it('runs on the newest Node that is tested, as nobody in particular, and writes nowhere but in /data and /tmp', () => {
    const dockerfile = text('server/Dockerfile')
    expect([...dockerfile.matchAll(/^FROM node:(\d+)/gm)].map(([, major]) => major)).toEqual(['24', '24'])
    expect(dockerfile).toMatch(/^USER node$[\s\S]*^ENTRYPOINT /m)
    const server = compose.services['server']!
    expect(server).toMatchObject({ read_only: true, cap_drop: ['ALL'], tmpfs: ['/tmp'] })
    expect(server.volumes).toEqual(['data:/data', './data/plants:/plants:ro'])
  })

  it('names images without the host of a registry', () => {
    const images = [
      ...Object.values(compose.services).flatMap((service) => service.image ?? []),
      ...[...text('server/Dockerfile').matchAll(/^FROM (\S+)/gm)].map((match) => match[1]!),
    ]
    // the part before the first "/" is a host when it has a "." or ":" in it
    expect(images.filter((image) => image.includes('/') && /[.:]/.test(image.split('/')[0]!))).toEqual([])
  })
})
