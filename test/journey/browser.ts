import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { browserCookie } from '../support/serverProcess.ts'
import { toolPath } from '../support/tools.ts'

/** Without these Chromium asks for addresses outside, which are not there, and refuses to run as root. */
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-dev-shm-usage',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
]

interface PageWish {
  width?: number
  height?: number
  dark?: boolean
  /** A browser that did not come in by the address on the console. */
  stranger?: boolean
}

export interface JourneyBrowser {
  /** @param width Width of the window; 390 is a phone. */
  open(url: string, options?: PageWish): Promise<Page>
  /** Errors that any page wrote to its console. */
  errors: string[]
  /** Closes what is open: a live page draws on, and the pages of later tests wait for the processor. */
  closePages(): Promise<void>
  close(): Promise<void>
}

export async function openBrowser(): Promise<JourneyBrowser> {
  const browser: Browser = await chromium.launch({ executablePath: toolPath('chromium')!, args: ARGUMENTS })
  const contexts: BrowserContext[] = []
  const errors: string[] = []

  async function closePages(): Promise<void> {
    for (const context of contexts.splice(0)) await context.close()
  }

  return {
    errors,
    async open(url, { width = 1440, height = 900, dark = false, stranger = false } = {}) {
      const context = await browser.newContext({
        viewport: { width, height },
        colorScheme: dark ? 'dark' : 'light',
        reducedMotion: 'reduce',
        // Certificates of tests are their own authority.
        ignoreHTTPSErrors: true,
      })
      contexts.push(context)
      const [name, value] = (stranger ? undefined : browserCookie(url))?.split('=') ?? []
      if (name && value) await context.addCookies([{ name, value, url, sameSite: 'Strict', httpOnly: true }])
      const page = await context.newPage()
      page.on('pageerror', (error) => errors.push(error.message))
      page.on('console', (message) => {
        if (message.type() === 'error') errors.push(message.text())
      })
      await page.goto(url)
      return page
    },
    closePages,
    async close() {
      await closePages()
      await browser.close()
    },
  }
}

/** Waits until live frames arrive. */
export async function whenLive(page: Page): Promise<void> {
  await page.waitForSelector('html[data-live="true"]', { timeout: 15_000 })
}
