/** A visit to the page as a user makes it: everything is found by role and by the name that is read. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import axe from 'axe-core'
import type { Browser, BrowserContext, Locator, Page } from 'playwright-core'
import { inject } from 'vitest'
import { startBrowser } from './browser.ts'

/** A browser with 3D; whoever opens it closes it. */
export const openBrowser = (): Promise<Browser> => startBrowser(inject('browser'), inject('libraries'))

let plain: Promise<Browser> | undefined

/** A machine without 3D. To start one takes a second, so that one does for all files; it goes with the process that runs them. */
export function plainBrowser(): Promise<Browser> {
  plain ??= startBrowser(inject('browser'), inject('libraries'), { webgl: false })
  return plain
}

/** Closes what a file has left open in the browser that all use. */
export async function closePages(browser: Browser): Promise<void> {
  await Promise.all(browser.contexts().map((context) => context.close()))
}

export interface Visit {
  readonly page: Page
  readonly context: BrowserContext
  /** What the console called an error, and what nobody caught. */
  readonly errors: string[]
  readonly plan: Locator
  readonly sheet: Locator
  readonly card: (name: string) => Locator
  /** An item in the plan, by its id. */
  readonly item: (id: string) => Locator
  /** Its row in the list. */
  readonly row: (id: string) => Locator
  readonly button: (name: string | RegExp) => Locator
  /** Chooses a project file with these contents; done when it was taken or refused. */
  readonly open: (name: string, contents: unknown) => Promise<void>
  /** Until every variant has an answer. */
  readonly allSolved: () => Promise<void>
  /** Until the variant on the stage has one. */
  readonly solved: () => Promise<void>
  /** Until the stage no longer looks for anything. */
  readonly settled: () => Promise<void>
  /** All items and where they stand, in words, as the plan tells them. */
  readonly picture: () => Promise<string[]>
  readonly pixelsPerMm: () => Promise<number>
  /** Drags by so many pixels, in a few steps. */
  readonly drag: (id: string, dx: number, dy: number) => Promise<void>
}

/** The first demo without the wish that leads be long enough round what is there, which is proven in seconds and not at once. */
export function quickScout(): object {
  const robot = JSON.parse(readFileSync(join(import.meta.dirname, '../../demo-data/greenhouse-scout.json'), 'utf8'))
  const { wiring: _, ...settings } = robot.settings
  return { ...robot, settings }
}

export async function visit(
  browser: Browser,
  options: {
    colorScheme?: 'light' | 'dark'
    width?: number
    height?: number
    /** The demo to choose on the start view; `none` stays there. Missing: the scout, asked for nothing that takes seconds to prove. */
    demo?: string
  } = {},
): Promise<Visit> {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1440, height: options.height ?? 1000 },
    colorScheme: options.colorScheme ?? 'light',
    acceptDownloads: true,
    // Keeping all files for offline use at every visit would only cost time.
    serviceWorkers: 'block',
  })
  const page = await context.newPage()
  const errors: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text())
  })
  page.on('pageerror', (error) => errors.push(String(error)))
  await page.goto(inject('page'))
  const { demo } = options
  const open: Visit['open'] = async (name, contents) => {
    const input = page.getByLabel('Project file to open')
    await input.setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(contents)) })
    // It is read in the background, and until then the document before is there and looks settled; then the field is empty again.
    await page.waitForFunction((e) => (e as HTMLInputElement).value === '', await input.elementHandle())
  }
  if (demo === undefined) await open('greenhouse-scout.json', quickScout())
  else if (demo !== 'none') await page.getByRole('button', { name: demo, exact: true }).click()
  const plan = page.getByRole('group', { name: /^Plan/ })
  const sheet = page.getByRole('complementary', { name: 'Findings' })
  const named = (id: string): RegExp => new RegExp(`^${id}\\b`)
  const item = (id: string): Locator => plan.getByRole('button', { name: named(id) })
  const cards = page.getByRole('navigation', { name: 'Variants' }).getByRole('button')
  // Asked in the page: to find the sheet anew each time, by its role, takes the solver's time.
  const settled = async (): Promise<void> => {
    const there = await sheet.elementHandle()
    await page.waitForFunction(
      (now) =>
        ![now, ...now!.querySelectorAll('*')].some((e) =>
          /^Looking for|like this\.$/.test((e!.textContent ?? '').trim().replace(/\s+/g, ' ')),
        ),
      there,
      { timeout: 60_000, polling: 50 },
    )
  }
  return {
    page,
    context,
    errors,
    plan,
    sheet,
    item,
    card: (name) => page.getByRole('navigation', { name: 'Variants' }).getByRole('button', { name: named(name) }),
    row: (id) => page.getByRole('region', { name: 'Items' }).getByRole('button', { name: named(id) }),
    button: (name) => page.getByRole('button', { name }),
    open,
    allSolved: async () => {
      await cards.first().waitFor()
      const nav = await page.getByRole('navigation', { name: 'Variants' }).elementHandle()
      await page.waitForFunction(
        (all) => ![...all!.querySelectorAll('button')].some((card) => card.textContent?.includes('Looking for')),
        nav,
        { timeout: 60_000, polling: 50 },
      )
    },
    solved: async () => {
      await cards.first().waitFor()
      await settled()
    },
    settled,
    // At once: one by one each would be looked for anew, by its role, among all that the plan has.
    picture: async () =>
      (await plan.getByRole('button').evaluateAll((all) => all.map((b) => b.getAttribute('aria-label'))))
        .filter((label): label is string => !!label && !label.startsWith('Free '))
        .sort(),
    pixelsPerMm: () => plan.evaluate((svg) => (svg as unknown as SVGSVGElement).getScreenCTM()?.a ?? 0),
    drag: async (id, dx, dy) => {
      const box = (await item(id).boundingBox())!
      // Near a corner, where no other item lies on it.
      const x = box.x + Math.min(14, box.width / 2)
      const y = box.y + Math.min(14, box.height / 2)
      await page.mouse.move(x, y)
      await page.mouse.down()
      await page.mouse.move(x + dx / 2, y + dy / 2, { steps: 3 })
      await page.mouse.move(x + dx, y + dy, { steps: 3 })
      await page.mouse.up()
    },
  }
}

const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

/** Every violation of WCAG A and AA that axe sees, in words, on the page or in a part of it; none is wanted. */
export async function violations(page: Page, within?: string): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source)
  const found = await page.evaluate(
    async ({ tags, part }) => {
      const { run } = (window as unknown as { axe: typeof axe }).axe
      // Nothing is written down about what is sound.
      return (await run(part ?? document, { runOnly: tags, resultTypes: ['violations'], selectors: false })).violations
    },
    { tags: WCAG, part: within },
  )
  return found.map((v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.html.slice(0, 200)).join(' | ')}`)
}

/** How many different colours a locator's screenshot has, counted in the page itself. */
export async function coloursOf(page: Page, locator: Locator): Promise<number> {
  const shot = (await locator.screenshot()).toString('base64')
  return page.evaluate(async (data) => {
    const bitmap = await createImageBitmap(await (await fetch(`data:image/png;base64,${data}`)).blob())
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height)
    const context = canvas.getContext('2d')
    if (!context) return 0
    context.drawImage(bitmap, 0, 0)
    const { data: bytes } = context.getImageData(0, 0, bitmap.width, bitmap.height)
    const seen = new Set<number>()
    for (let i = 0; i < bytes.length; i += 4) seen.add((bytes[i]! << 16) | (bytes[i + 1]! << 8) | bytes[i + 2]!)
    return seen.size
  }, shot)
}
