import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { THREE_SENSORS } from '../support/plants.ts'
import { connectPublisher, getJson, until } from '../support/publisher.ts'
import { scratchFolder } from '../support/scratch.ts'
import { fetchHere, type ServerProcess, startServer } from '../support/serverProcess.ts'
import { codeOfApp } from '../support/totp.ts'
import { type JourneyBrowser, openBrowser, whenLive } from './browser.ts'

const WATCHED = `${THREE_SENSORS}
alarms:
  - { id: low, name: Power low, kind: low, figure: activePower, limit: 1 kW, priority: medium }`
const PASSWORD = 'turn the water on'

describe('a new server, from its set-up code to an alarm acknowledged by name', () => {
  const scratch = scratchFolder()
  const args = ['--data', scratch.path, '--mqtt-port', '0']
  let server: ServerProcess
  let browser: JourneyBrowser
  let desk: Page
  let phone: Page

  beforeAll(async () => {
    args.push('--plant', scratch.file('mill.yaml', WATCHED))
    server = await startServer([...args, '--http-port', '0'])
    browser = await openBrowser()
  })

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  async function faultsOf(page: Page): Promise<string[]> {
    const { violations } = await new AxeBuilder({ page }).analyze()
    return violations.map((one) => `${one.id}: ${one.nodes[0]?.html}`)
  }

  /** Power falls below its limit, from above it. */
  async function raiseAlarm(): Promise<void> {
    const health = await getJson<{ source: { name: string } }>(`${server.url}/api/health`)
    const publisher = await connectPublisher(`mqtt://127.0.0.1:${/:(\d+)$/.exec(health.source.name)![1]}`)
    const state = async () =>
      (await getJson<{ state: string }[]>(`${server.url}/api/plants/mill/alarms`))[0]!.state
    await publisher.publishAsync('mill/power', '3')
    await until(state, (now) => now === 'normal')
    await publisher.publishAsync('mill/power', '0.4')
    await until(state, (now) => now === 'unacknowledged')
    await publisher.endAsync()
  }

  it('tells whoever may not acknowledge to sign in, while everything can be read', async () => {
    await raiseAlarm()
    phone = await browser.open(`${server.url}/#/plant/mill`, { width: 390, height: 844 })
    await whenLive(phone)
    const way = phone.locator('[data-alarm="low"] [data-action="signIn"]')
    await way.waitFor({ timeout: 5000 })
    expect(await way.textContent()).toBe('Sign in to acknowledge')
    expect((await way.boundingBox())!.height).toBeGreaterThanOrEqual(44)
    expect(await faultsOf(phone)).toEqual([])
    await way.click()
    await phone.waitForSelector('[data-screen="sign-in"]')
    expect(await faultsOf(phone)).toEqual([])
  })

  it('makes the first administrator with the code on the console, by keyboard alone', async () => {
    const code = /Set-up code (\S+):/.exec(server.output())![1]!
    desk = await browser.open(`${server.url}/#/set-up`)
    await desk.locator('input[name="code"]').focus()
    expect(await faultsOf(desk)).toEqual([])
    await desk.keyboard.type(code)
    await desk.keyboard.press('Tab')
    await desk.keyboard.type('Ada Weir')
    await desk.keyboard.press('Tab')
    await desk.keyboard.type(PASSWORD)
    await desk.keyboard.press('Enter')
    await desk.waitForSelector('[data-screen="people"]')
    expect(await desk.locator('[data-who]').getAttribute('data-who')).toBe('Ada Weir')
  })

  it('lets the administrator add an operator, whose code is shown once', async () => {
    await desk.fill('[data-panel="addUser"] input[name="name"]', 'Ben Sluice')
    await desk.check('input[value="operator"]')
    await desk.click('[data-action="addUser"]')
    await desk.waitForSelector('[data-code="Ben Sluice"]')
    expect(await faultsOf(desk)).toEqual([])
  })

  it('lets the operator in with the code, back to the plant that they came from', async () => {
    const code = (await desk.textContent('[data-code="Ben Sluice"]'))!
    const form = phone.locator('[data-panel="useCode"]')
    await form.locator('input[name="name"]').fill('ben sluice')
    await form.locator('input[name="code"]').fill(code.toLowerCase())
    await form.locator('input[name="password"]').fill(PASSWORD)
    await form.locator('button').click()
    await phone.waitForSelector('[data-screen="plant"]')
    await whenLive(phone)
    expect(await phone.locator('[data-who]').textContent()).toContain('Ben Sluice (operator)')
    expect(await phone.locator('nav').textContent()).not.toContain('People')
    expect(await phone.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390)
  })

  it('shows who acknowledged, at the alarm, in the journal and in the audit', async () => {
    await phone.click('[data-alarm="low"] [data-action="acknowledge"]')
    await phone.locator('[data-alarm="low"][data-alarm-state="acknowledged"]').waitFor()
    expect(await phone.textContent('[data-alarm="low"]')).toContain('by Ben Sluice')
    const line = phone.locator('[data-panel="journal"] [data-event="acknowledge"]').first()
    await line.waitFor({ timeout: 5000 })
    expect(await line.textContent()).toContain('by Ben Sluice')
    await desk.reload()
    const audit = desk.locator('[data-panel="audit"]')
    await audit.locator('text=Ben Sluice (operator)').first().waitFor()
    expect(await audit.textContent()).toMatch(/acknowledge.*plants\/mill\/alarms\/low/)
  })

  it('takes a right away at once, and says why the button does nothing', async () => {
    await desk.selectOption('[aria-label="Role of Ben Sluice"]', 'viewer')
    await raiseAlarm()
    await phone.reload()
    const button = phone.locator('[data-alarm="low"] [data-action="acknowledge"]')
    await button.waitFor({ timeout: 5000 })
    expect(await button.getAttribute('aria-disabled')).toBe('true')
    expect(await phone.textContent('[data-alarm="low"]')).toContain('Your role, viewer, may not acknowledge.')
    expect(await faultsOf(phone)).toEqual([])
  })

  it.each([320, 390, 1440])('never scrolls sideways on the screens for people at %d px', async (width) => {
    await desk.setViewportSize({ width, height: 844 })
    for (const address of ['people', 'sign-in', 'set-up']) {
      await desk.goto(`${server.url}/#/${address}`)
      await desk.waitForSelector(`[data-screen="${address}"] h1`)
      expect(await desk.evaluate(() => document.documentElement.scrollWidth), address).toBeLessThanOrEqual(
        width,
      )
    }
  })

  it('shows everybody in which browsers they are signed in, and signs another one out', async () => {
    const other = await browser.open(`${server.url}/#/sign-in`)
    await other.fill('[data-panel="signIn"] input[name="name"]', 'Ada Weir')
    await other.fill('[data-panel="signIn"] input[name="password"]', PASSWORD)
    await other.click('[data-action="signIn"]')
    await other.locator('[data-who="Ada Weir"]').waitFor()
    await desk.goto(`${server.url}/#/sign-in`)
    const line = desk.locator('[data-session="other"]')
    await line.waitFor()
    expect(await line.textContent()).toMatch(/Chrome.* on Linux.*from 127\.0\.0\.1/)
    expect(await faultsOf(desk)).toEqual([])
    await line.locator('[data-action="endSession"]').click()
    await line.waitFor({ state: 'detached' })
    expect(await desk.locator('[data-session="this"]').count()).toBe(1)
    await other.reload()
    await other.locator('[data-who=""]').waitFor()
  })

  it('keeps everybody signed in across a restart', async () => {
    const { port } = new URL(server.url)
    await server.stop()
    server = await startServer([...args, '--http-port', port])
    await desk.goto(`${server.url}/#/people`)
    await desk.locator('[data-user="Ben Sluice"]').waitFor()
  })

  it('asks for the password again over the screen, which keeps what was typed and goes on', async () => {
    await desk.fill('[data-panel="addUser"] input[name="name"]', 'Cy Leat')
    await desk.click('[data-action="addUser"]')
    const sheet = desk.locator('[data-panel="proof"]')
    await sheet.waitFor()
    expect(await faultsOf(desk)).toEqual([])
    await desk.keyboard.press('Escape')
    await sheet.waitFor({ state: 'detached' })
    expect(await desk.inputValue('[data-panel="addUser"] input[name="name"]')).toBe('Cy Leat')
    await desk.click('[data-action="addUser"]')
    // the sheet comes with the answer of the server, and takes the keys from then on
    await sheet.locator('input:focus').waitFor()
    await desk.keyboard.type('not the password')
    await desk.keyboard.press('Enter')
    await sheet.locator('text=This is not your password.').waitFor()
    await sheet.locator('input').fill(PASSWORD)
    await desk.keyboard.press('Enter')
    await desk.locator('[data-code="Cy Leat"]').waitFor()
    expect(await sheet.count()).toBe(0)
  })

  it('sets a second factor up with its first code, and asks for it at the next sign-in', async () => {
    await desk.goto(`${server.url}/#/sign-in`)
    await desk.click('[data-action="beginSecondFactor"]')
    const key = (await desk.textContent('[data-key]'))!.replaceAll(' ', '')
    expect(await faultsOf(desk)).toEqual([])
    const form = desk.locator('[data-panel="confirmSecondFactor"]')
    await form.locator('input').fill('000000')
    await desk.keyboard.press('Enter')
    await form.locator('text=Is the clock of the phone right?').waitFor()
    await form.locator('input').fill(codeOfApp(key, Date.now()))
    await desk.keyboard.press('Enter')
    const codes = desk.locator('.recovery-codes code')
    await codes.first().waitFor()
    expect(await codes.count()).toBe(10)
    expect(await faultsOf(desk)).toEqual([])
    const recovery = (await codes.first().textContent())!
    const other = await browser.open(`${server.url}/#/sign-in`, { width: 390 })
    await other.fill('[data-panel="signIn"] input[name="name"]', 'Ada Weir')
    await other.fill('[data-panel="signIn"] input[name="password"]', PASSWORD)
    await other.click('[data-action="signIn"]')
    await other.locator('input[name="secondFactor"]').waitFor()
    expect(await faultsOf(other)).toEqual([])
    await other.keyboard.type(recovery)
    await other.keyboard.press('Enter')
    await other.locator('[data-who="Ada Weir"]').waitFor()
    await other.goto(`${server.url}/#/sign-in`)
    await other.locator('text=9 recovery codes left').waitFor()
  })

  it('lets people sign out', async () => {
    await desk.click('[data-action="signOut"]')
    await desk.locator('[data-who=""]').waitFor()
    await desk.locator('[data-panel="signIn"]').waitFor()
    expect(server.output()).not.toContain('Set-up code')
  })

  it('writes no error to the console but that the server was away or refused what was typed', () => {
    const expected = /WebSocket|ERR_CONNECTION_(REFUSED|RESET)|status of 40[01]/
    expect(browser.errors.filter((error) => !expected.test(error))).toEqual([])
  })
})

describe('a server seen from elsewhere', () => {
  const scratch = scratchFolder()
  let server: ServerProcess
  let browser: JourneyBrowser

  beforeAll(async () => {
    const plant = scratch.file('mill.yaml', WATCHED)
    const ports = ['--http-port', '0', '--mqtt-port', '0']
    server = await startServer(['--data', scratch.path, '--plant', plant, ...ports])
    browser = await openBrowser()
  })

  afterAll(async () => {
    await browser.close()
    await server.stop()
    scratch.remove()
  })

  it('shows nothing but the sign-in, and the plants once somebody is signed in', async () => {
    const code = /Set-up code (\S+):/.exec(server.output())![1]!
    const made = await fetchHere(`${server.url}/api/setup`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'Ada', code, password: PASSWORD }),
    })
    expect(made.status).toBe(200)
    const page = await browser.open('about:blank', { width: 390 })
    // What a proxy on this machine says of a browser elsewhere.
    await page.setExtraHTTPHeaders({ 'x-forwarded-for': '192.0.2.9' })
    await page.goto(`${server.url}/`)
    const form = page.locator('[data-panel="signIn"]')
    await form.waitFor()
    expect(await page.textContent('main')).toContain('to people who are signed in')
    expect(await page.locator('[data-plant]').count()).toBe(0)
    await form.locator('input[name="name"]').fill('Ada')
    await form.locator('input[name="password"]').fill('not the password')
    await form.locator('button').click()
    await page.locator('text=Name and password do not belong together.').waitFor()
    await form.locator('input[name="password"]').fill(PASSWORD)
    await form.locator('button').click()
    await page.locator('[data-plant="mill"]').waitFor()
  })
})
