import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type HttpBench, httpBench } from '../../support/httpBench.ts'
import { registeredRoutes } from '../../support/registeredRoutes.ts'

interface Operation {
  summary: string
  parameters: { name: string; in: string; required: boolean; description?: string; schema: object }[]
  requestBody?: { content: Record<string, { schema: Record<string, unknown> }> }
  responses: Record<string, { content: Record<string, { schema: Record<string, unknown> }> }>
}

interface Description {
  openapi: string
  paths: Record<string, Record<string, Operation>>
  components: { schemas: Record<string, unknown> }
}

describe('the description of the HTTP interface', () => {
  let http: HttpBench
  let text: string
  let description: Description

  beforeAll(async () => {
    http = await httpBench()
    text = await (await http.ask('GET', '/api/openapi.json')).text()
    description = JSON.parse(text) as Description
  })
  afterAll(() => http.close())

  it('describes every route that is served, and no other', async () => {
    // "/" serves the page itself; a link in a message is for a person's browser.
    const served = (await registeredRoutes(http.headrace.url)).filter(
      (route) => !['GET /', 'GET /enter/:code'].includes(route) && !route.endsWith(' /acknowledge/:token'),
    )
    const described = Object.entries(description.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path.replace(/\{(\w+)\}/g, ':$1')}`),
    )
    expect(described.sort()).toEqual(served.sort())
  })

  it('says of each what stands in its address, what it takes and what it answers', () => {
    for (const [path, methods] of Object.entries(description.paths))
      for (const [method, { summary, parameters, responses }] of Object.entries(methods)) {
        const names = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name)
        // OpenAPI 3.1.0, 4.8.12.1: parameters of the path are required, and each has its place in it.
        const inPath = parameters.filter((one) => one.in === 'path')
        expect(
          inPath.map(({ name }) => name),
          path,
        ).toEqual(names)
        expect(
          inPath.every(({ required, description: words }) => required && words),
          path,
        ).toBe(true)
        expect(summary.length, `${method} ${path}`).toBeGreaterThan(6)
        expect(Object.keys(responses['200']!.content), path).toHaveLength(1)
      }
  })

  it('refers to no part that it does not have', () => {
    // RFC 6901: what a "$ref" of this document points to.
    const referred = [...text.matchAll(/"\$ref":"#\/([^"]+)"/g)].map(([, place]) => place!)
    expect(referred.length).toBeGreaterThan(10)
    for (const place of referred) {
      const found = place
        .split('/')
        .reduce<unknown>((at, key) => (at as Record<string, unknown>)?.[key], description)
      expect(found, place).toBeDefined()
    }
  })

  it('gives bodies and replies with their fields, and files with their kind', () => {
    const { post } = description.paths['/api/plants/{plant}/alarms/{alarm}/shelve']!
    expect(post!.requestBody!.content['application/json']!.schema).toMatchObject({
      properties: { minutes: { type: 'number', maximum: 1440 }, note: { minLength: 3, maxLength: 500 } },
      required: ['note', 'minutes'],
    })
    const { get } = description.paths['/api/plants/{plant}/history']!
    expect(get!.parameters.find(({ name }) => name === 'figures')).toMatchObject({
      in: 'query',
      required: true,
    })
    expect(get!.parameters.find(({ name }) => name === 'points')).toMatchObject({ required: false })
    expect(get!.responses['200']!.content['application/json']!.schema).toMatchObject({
      properties: { bucketMs: { type: 'number' }, at: { type: 'array' } },
    })
    const pack = description.paths['/api/plants/{plant}/runs/{run}/pack']!['get']!
    expect(Object.keys(pack.responses['200']!.content)).toEqual(['application/zip'])
  })
})
