/** The 3D view as it is used: turned, dragged in, taken apart, lost and come back; and what it leaves behind. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest'
import { inspectedRobot } from '../bench/inspect-deck.ts'
import { openBrowser, type Visit, violations, visit } from './visit.ts'

/** Two cores may draw in software for several tests at once. */
const SLOW = { timeout: 20_000 }

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
/** One visit for all: a view that is drawn in software is slow to come. */
let v: Visit

beforeAll(async () => {
  browser = await openBrowser()
  v = await visit(browser, { demo: 'none', width: 1024, height: 700 })
  // With nothing to be best at, a search ends with its first layout: both cores are then free to draw.
  const robot = JSON.parse(readFileSync(join(import.meta.dirname, '../../demo-data/hedge-patrol.json'), 'utf8'))
  // Without its boards it is soon laid out, and each frame soon drawn.
  const variants = LONG ? robot.variants : robot.variants.filter(({ id }: { id: string }) => id === 'no-bench')
  await v.open('hedge-patrol.json', { ...robot, variants, objective: [] })
})

afterAll(() => browser.close())

const canvasOf = ({ page }: Visit) => page.getByRole('img', { name: /^3D view/ }).locator('canvas')

const framesOf = async (v: Visit): Promise<number> => Number((await canvasOf(v).getAttribute('data-frames')) ?? 0)

/** Until `act` has had frames drawn. */
async function draws(v: Visit, act: () => Promise<unknown>): Promise<void> {
  const before = await framesOf(v)
  await act()
  await expect.poll(() => framesOf(v), SLOW).not.toBe(before)
}

/** Until nothing is drawn any more. */
async function rests(v: Visit): Promise<void> {
  let last = Number.NaN
  const same = async () => {
    const before = last
    last = await framesOf(v)
    return last === before
  }
  await expect.poll(same, { ...SLOW, interval: 150 }).toBe(true)
}

/** The first item that the pointer meets in 3D, from the middle outwards. */
async function found(v: Visit, wanted: RegExp): Promise<{ id: string; x: number; y: number }> {
  const box = (await canvasOf(v).boundingBox())!
  const steps = [0, -1, 1, -2, 2, -3, 3, -4, 4]
  for (const j of steps)
    for (const i of steps) {
      const x = box.x + box.width * (0.5 + i / 14)
      const y = box.y + box.height * (0.5 + j / 14)
      await v.page.mouse.move(x, y)
      const id = await v.page.evaluate(
        () =>
          new Promise<string | null | undefined>((done) =>
            requestAnimationFrame(() => done(document.querySelector('.list li.hovered b')?.textContent)),
          ),
      )
      if (id && wanted.test(id)) return { id, x, y }
    }
  throw new Error('nothing is found in 3D')
}

describe('the view in the round', () => {
  it('is turned by keys, buttons and pointer, and taken apart without a change of the layout', async () => {
    const { page } = v
    const view = page.getByRole('group', { name: '3D view', exact: true })
    await expect.poll(() => framesOf(v), SLOW).toBeGreaterThan(0)
    // Drawn by the processor here, and so without smooth edges: they would take as long again as all else.
    const smooth = (c: Element) => (c as HTMLCanvasElement).getContext('webgl2')?.getContextAttributes()?.antialias
    expect(await canvasOf(v).evaluate(smooth)).toBe(false)
    await v.allSolved()
    await view.focus()
    for (const key of ['ArrowLeft', 'Home']) await draws(v, () => page.keyboard.press(key))
    await draws(v, () => v.button('Turn the view to the left').click())
    await draws(v, async () => {
      await view.scrollIntoViewIfNeeded()
      const box = (await view.boundingBox())!
      await page.mouse.move(box.x + 9, box.y + 9)
      await page.mouse.down()
      await page.mouse.move(box.x + 80, box.y + 30, { steps: 3 })
      await page.mouse.up()
    })
    // At rest nothing is drawn.
    await rests(v)
    const atRest = await framesOf(v)
    await page.waitForTimeout(700)
    expect(await framesOf(v)).toBe(atRest)
    expect(v.errors).toEqual([])
    if (!LONG) return
    const held = () => canvasOf(v).evaluate((c) => `${c.dataset.geometries} geometries, ${c.dataset.textures} textures`)
    const first = await held()
    const layout = await v.picture()
    const undo = v.button('Undo')
    const before = await undo.isEnabled()
    await page.getByText('Shown in 3D…').click()
    for (const name of ['Corridors', 'Zones', /^Centre of gravity/])
      await draws(v, () => page.getByRole('checkbox', { name, exact: true }).click())
    await page.getByText(/^Loaded at its worst/).waitFor()
    await draws(v, () => page.getByRole('slider', { name: 'Decks lifted apart' }).fill('0.6'))
    await draws(v, () => page.getByRole('slider', { name: 'How high stacks are' }).fill('0.5'))
    const tools = page.getByRole('toolbar', { name: 'Tools of the 3D view' })
    await draws(v, () => tools.getByRole('slider', { name: 'Pan of the head' }).fill('30'))
    await page.getByText(/^neck is free at every tilt .*Turned 30° left/).waitFor()
    await page.getByText('Parts…').click()
    await draws(v, () => page.getByLabel('cells in 3D').selectOption('left away'))
    await draws(v, () => page.getByLabel('Deck upper deck in 3D').selectOption('only hinted at'))
    await draws(v, () => v.button('Show all').click())
    // As at first again, it holds no more than at first.
    expect(await held()).not.toBe(first)
    for (const name of ['Corridors', 'Zones', /^Centre of gravity/])
      await page.getByRole('checkbox', { name, exact: true }).click()
    await page.getByRole('slider', { name: 'How high stacks are' }).fill('1')
    await page.getByRole('slider', { name: 'Decks lifted apart' }).fill('0')
    await expect.poll(held, SLOW).toBe(first)
    expect(await v.picture()).toEqual(layout)
    expect(await undo.isEnabled()).toBe(before)
    expect(await violations(page, '.view-scene')).toEqual([])
    await page.getByText('Parts…').click()
    await page.getByText('Shown in 3D…').click()
    expect(v.errors).toEqual([])
  })

  it('has an item dragged along its deck, held where it is let go of; Esc and undo take it back', async () => {
    const { page } = v
    await v.allSolved()
    await rests(v)
    await draws(v, () => v.button('From above').click())
    await page.getByRole('group', { name: '3D view', exact: true }).scrollIntoViewIfNeeded()
    // What the pointer meets is found in the picture that was drawn last.
    await rests(v)
    const { id, x, y } = await found(v, /^(spare|damp|regulator|brain|display)\b/)
    const where = () => v.item(id).getAttribute('aria-label')
    const first = await where()
    const drag = async (): Promise<void> => {
      await page.mouse.move(x, y)
      await page.mouse.down()
      await page.mouse.move(x + 8, y + 8, { steps: 2 })
      await page.mouse.move(x + 40, y + 12, { steps: 3 })
    }
    // What is not in hand turns the view instead.
    await drag()
    await page.mouse.up()
    expect(await where()).toBe(first)
    await draws(v, () => v.button('From above').click())
    await rests(v)
    await page.mouse.click(x, y)
    await expect.poll(() => v.row(id).getAttribute('class'), SLOW).toContain('selected')
    await drag()
    await expect.poll(where, SLOW).not.toBe(first)
    await rests(v)
    await draws(v, () => page.keyboard.press('Escape'))
    await expect.poll(where, SLOW).toBe(first)
    await page.mouse.up()
    await rests(v)
    await drag()
    await page.mouse.up()
    await expect.poll(where, SLOW).toMatch(/held here$/)
    expect(await where()).not.toBe(`${first}, held here`)
    await v.button('Undo').click()
    await expect.poll(where, SLOW).toBe(first)
    expect(v.errors).toEqual([])
  })

  it.runIf(LONG)('goes when the browser takes its surface, and comes back with it', async () => {
    const { page } = v
    await canvasOf(v).evaluate((c) => {
      const lose = (c as HTMLCanvasElement).getContext('webgl2')?.getExtension('WEBGL_lose_context')
      Object.assign(window, { lose })
      lose?.loseContext()
    })
    await page.getByText('The browser took the drawing surface of the 3D view away.').waitFor()
    const where = () => v.item('damp').getAttribute('aria-label')
    await v.allSolved()
    const before = await where()
    await v.item('damp').focus()
    await page.keyboard.press('ArrowRight')
    await expect.poll(where, SLOW).not.toBe(before)
    await page.keyboard.press('Escape')
    await expect.poll(where, SLOW).toBe(before)
    await page.evaluate(() => (window as unknown as { lose: WEBGL_lose_context }).lose.restoreContext())
    await expect.poll(() => page.getByText(/took the drawing surface/).count(), SLOW).toBe(0)
    // The one that came back has drawn, and is done with it: what comes then comes of the button.
    await expect.poll(() => framesOf(v), SLOW).toBeGreaterThan(0)
    await rests(v)
    await draws(v, () => v.button('From the side').click())
    expect(v.errors).toEqual([])
  })
})

interface Left {
  readonly lost: boolean
  readonly buffers: number
  readonly textures: number
}

/** Counts what every drawing context made and did not give back, from outside. */
const watch = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const all = new Map<WebGL2RenderingContext, { buffers: Set<unknown>; textures: Set<unknown> }>()
    const of = (gl: WebGL2RenderingContext) => {
      const known = all.get(gl) ?? { buffers: new Set(), textures: new Set() }
      all.set(gl, known)
      return known
    }
    const gl = WebGL2RenderingContext.prototype
    const { createBuffer, createTexture, deleteBuffer, deleteTexture } = gl
    gl.createBuffer = function () {
      const made = createBuffer.call(this)
      of(this).buffers.add(made)
      return made
    }
    gl.createTexture = function () {
      const made = createTexture.call(this)
      of(this).textures.add(made)
      return made
    }
    gl.deleteBuffer = function (gone) {
      of(this).buffers.delete(gone)
      deleteBuffer.call(this, gone)
    }
    gl.deleteTexture = function (gone) {
      of(this).textures.delete(gone)
      deleteTexture.call(this, gone)
    }
    Object.assign(window, {
      left: () =>
        [...all].map(([context, { buffers, textures }]) => ({
          lost: context.isContextLost(),
          buffers: buffers.size,
          textures: textures.size,
        })),
    })
  })

describe('what it leaves behind', () => {
  it.runIf(LONG)(
    'is nothing, however often it is mounted and unmounted',
    async () => {
      const { page } = v
      await watch(page)
      const left = () => page.evaluate(() => (window as unknown as { left: () => Left[] }).left())
      const canvases = page.locator('.view-scene canvas')
      const counts: string[] = []
      for (let i = 0; i < (LONG ? 50 : 2); i++) {
        await v.button(/^Show beside/).click()
        await expect.poll(() => canvases.count(), SLOW).toBe(2)
        const second = canvases.nth(1)
        await expect.poll(() => second.getAttribute('data-frames'), SLOW).not.toBeNull()
        counts.push(await second.evaluate((c) => `${c.dataset.geometries} geometries, ${c.dataset.textures} textures`))
        await v.button('Show one alone').click()
        await expect.poll(() => canvases.count(), SLOW).toBe(1)
      }
      expect(new Set(counts).size).toBe(1)
      // A view that is gone gives its surface back after a moment, with all that was on it.
      const gone = async (): Promise<Left[]> => (await left()).filter((l) => l.lost)
      await expect.poll(async () => (await gone()).length, SLOW).toBe(counts.length)
      const [one, ...others] = await gone()
      for (const other of others) expect(other).toEqual(one)
      // No geometry of it is left; the few textures are the renderer's own.
      expect(one!.buffers).toBe(0)
      expect(v.errors).toEqual([])
    },
    600_000,
  )
})

describe('what it costs', () => {
  it.runIf(LONG)('few draws for a deck of forty items, so that a frame takes little of the page’s time', async () => {
    const { page } = v
    const put = (name: string, text: string): Promise<void> =>
      page
        .getByLabel('Project file to open')
        .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
    await put('forty.json', inspectedRobot())
    await expect.poll(() => page.getByRole('region', { name: 'Items' }).getByRole('listitem').count(), SLOW).toBe(40)
    await put('forty.layout.json', readFileSync('tests/bench/inspect-layout.json', 'utf8'))
    const drawn = async (): Promise<number> => Number(await canvasOf(v).getAttribute('data-draws'))
    await expect.poll(drawn, SLOW).toBeGreaterThan(15)
    await page.getByText('Shown in 3D…').click()
    for (const name of ['Corridors', 'Zones', /^Centre of gravity/])
      await draws(v, () => page.getByRole('checkbox', { name, exact: true }).click())
    expect(await drawn()).toBeLessThan(60)
  })

  it('nothing before the plan is of use: the first scripts are under 350 kB and have no 3D in them', async () => {
    const page = inject('page')
    const text = async (path: string): Promise<string> => (await fetch(new URL(path, page))).text()
    const html = await text('')
    const first = new Set([...html.matchAll(/(?:src|href)="([^"]+\.js)"/g)].map((m) => new URL(m[1]!, page).pathname))
    // What they import at once is first too.
    for (const path of first)
      for (const m of (await text(path)).matchAll(/(?:from|import)\s*"(\.[^"]+\.js)"/g))
        first.add(new URL(m[1]!, new URL(path, page)).pathname)
    const bodies = await Promise.all([...first].map(text))
    expect(bodies.length).toBeGreaterThan(0)
    const size = bodies.reduce((sum, body) => sum + gzipSync(body).length, 0)
    expect(size).toBeGreaterThan(50_000)
    expect(size).toBeLessThan(350_000)
    expect(bodies.some((b) => b.includes('WebGLRenderer'))).toBe(false)
  })
})
