import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { root } from '../support/root.ts'
import { type ComposeFile, composeFaults } from './composeRules.ts'

const text = (name: string) => readFileSync(join(root, name), 'utf8')
const compose: ComposeFile = parse(text('docker-compose.yml'))

describe('docker-compose.yml', () => {
  it('keeps the rules of the Compose Specification', () => {
    expect(composeFaults(compose)).toEqual([])
  })

  it('opens every port to this machine only', () => {
    const ports = Object.values(compose.services).flatMap((service) => service.ports ?? [])
    expect(ports.filter((port) => !port.startsWith('127.0.0.1:'))).toEqual([])
    expect(ports.length).toBeGreaterThan(0)
  })

  it('names images without the host of a registry', () => {
    const images = [
      ...Object.values(compose.services).flatMap((service) => service.image ?? []),
      ...[...text('Dockerfile').matchAll(/^FROM (\S+)/gm)].map((match) => match[1]!),
    ]
    // the part before the first "/" is a host when it has a "." or ":" in it
    expect(images.filter((image) => image.includes('/') && /[.:]/.test(image.split('/')[0]!))).toEqual([])
  })
})

describe('composeFaults', () => {
  const broken: [string, unknown][] = [
    ['services.a: unknown key "imagge"', { services: { a: { image: 'x', imagge: 'y' } } }],
    ['services.a: neither image nor build', { services: { a: {} } }],
    [
      'services.a: port "80" does not have the form of one',
      { services: { a: { image: 'x', ports: ['80'] } } },
    ],
    ['services.a: volume "d" is not declared', { services: { a: { image: 'x', volumes: ['d:/d'] } } }],
    [
      'services.a: config "c" is not declared',
      { services: { a: { image: 'x', configs: [{ source: 'c', target: '/c' }] } } },
    ],
    [
      'services.a: depends on "b", which is no service',
      { services: { a: { image: 'x', depends_on: { b: { condition: 'service_started' } } } } },
    ],
    [
      'services.a: requires "b", which a profile leaves out',
      {
        services: {
          a: { image: 'x', depends_on: { b: { condition: 'service_started' } } },
          b: { image: 'x', profiles: ['some'] },
        },
      },
    ],
    [
      'services.a: profile "-p" does not have the form of one',
      { services: { a: { image: 'x', profiles: ['-p'] } } },
    ],
    ['configs.c: expected exactly one of content, file, external', { services: {}, configs: { c: {} } }],
    ['unknown key "service" at the top', { services: {}, service: {} }],
  ]
  it.each(broken)('tells of: %s', (fault, file) => {
    expect(composeFaults(file as ComposeFile)).toEqual([fault])
  })
})
