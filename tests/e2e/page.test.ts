import { readFile } from 'node:fs/promises'
import type { Browser } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { median, yardstick } from '../bench/timing.ts'
import { bricks, storeys } from './sample.ts'
import { closePages, coloursOf, openBrowser, plainBrowser, quickScout, type Visit, visit } from './visit.ts'

// Drawn in software, the 3D view takes most of the time, so only its own tests have one; and one visit does for all that begin alike.
const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
let v: Visit

beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))
afterEach(() => expect(v.errors).toEqual([]))

/** The demo as it was found, everything undone. */
async function anew(): Promise<void> {
  const undo = v.button('Undo')
  await v.settled()
  while (await undo.isEnabled()) await undo.click()
  await v.card('centred').click()
  await v.settled()
}

/** What the arithmetic takes on the machine that the limit was set on, ms. */
const AT_REST = 25

const numberIn = (text: string | null): number => Number(/\d+/.exec(text ?? '')?.[0])

describe('first paint', () => {
  it('is of use within 4 s of choosing, and within 60 s of opening shows both variants solved, with figures and a sentence', async () => {
    const opened = performance.now()
    v = await visit(browser, { demo: 'none' })
    await v.button('Greenhouse scout').waitFor()
    const from = performance.now()
    await v.page.getByRole('button', { name: 'Greenhouse scout', exact: true }).click()
    await v.card('beside').waitFor()
    const took = performance.now() - from
    await v.allSolved()
    const solved = (performance.now() - opened) / 1000
    if (LONG) console.log(`from opening to a solved plan: ${solved.toFixed(1)} s`)
    expect(solved).toBeLessThan(60)
    // Where the machine is busy ten seconds need not be enough to prove them.
    for (const name of ['centred', 'beside']) {
      await v.card(name).click()
      const on = v.button('Look on for half a minute')
      if (await on.isVisible()) {
        await on.click()
        await v.allSolved()
      }
    }
    const contacts: number[] = []
    for (const name of ['centred', 'beside']) {
      const text = await v.card(name).textContent()
      expect(text).toMatch(/\d+ free contacts/)
      expect(text).toMatch(/[Pp]ossible|[Aa]t most [\d.]+ /)
      contacts.push(Number(/(\d+) free contacts/.exec(text ?? '')?.[1]))
    }
    expect(contacts[1]).toBeGreaterThan(contacts[0]!)
    // Every word of the figures can be read, the difference to the other variant too.
    const cut = await v.card('beside').evaluate((card) =>
      [...card.querySelectorAll('.card-figures, .figure')]
        .filter((e) => getComputedStyle(e).overflow === 'hidden')
        .filter((e) => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
        .map((e) => e.textContent),
    )
    expect(cut).toEqual([])
    await v.card('centred').click()
    const first = await v.picture()
    expect(first).not.toEqual([])
    // Neither rule numbers nor status words.
    // biome-ignore lint/performance/useDomNodeTextContent: what cannot be seen does not count here
    const text = await v.page.locator('body').innerText()
    expect(text).not.toMatch(/\bR(10|[1-9])\b|\b(in)?feasible\b|\boptimal\b/i)
    await v.card('beside').click()
    expect(await v.picture()).not.toEqual(first)
    await v.card('centred').click()
    expect(await v.picture()).toEqual(first)
    // 4 s where nothing else runs (0.7 to 1.2 s on two cores); the fixed arithmetic tells how far from that this machine is now.
    expect(took).toBeLessThan(4000 * Math.max(1, median([yardstick(), yardstick(), yardstick()]) / AT_REST))
  })
})

describe('dragging in the plan', () => {
  // The same robot without what takes seconds to prove, which each change would have proven anew.
  beforeAll(async () => {
    await v.open('greenhouse-scout.json', quickScout())
    await v.allSolved()
  })

  it('holds the item, keeps the layout sound, is one step, and is freed in one click', async () => {
    await anew()
    await v.card('beside').click()
    const before = await v.picture()
    await v.drag('brain', 9, -6)
    await v.settled()
    await v.plan.getByRole('button', { name: 'Free brain' }).waitFor()
    const after = await v.picture()
    expect(after).not.toEqual(before)
    expect(after.find((l) => l.startsWith('brain'))).toMatch(/held here$/)
    expect(await v.item('brain').getAttribute('aria-pressed')).toBe('true')
    // On its disc: what the hold costs is written beside it as soon as that is known, and moves the middle of both.
    await v.plan.getByRole('button', { name: 'Free brain' }).locator('.disc').click()
    expect(await v.item('brain').getAttribute('aria-pressed')).toBe('false')
    await v.button('Undo').click()
    expect(await v.item('brain').getAttribute('aria-pressed')).toBe('true')
    await v.button('Undo').click()
    expect(await v.picture()).toEqual(before)
    expect(await v.button('Undo').isDisabled()).toBe(true)
    await v.button('Redo').click()
    await v.settled()
    expect(await v.picture()).toEqual(after)
  })

  it('that ends where it began is no step, and Escape takes it back', async () => {
    await anew()
    const before = await v.picture()
    const box = (await v.item('lamp').boundingBox())!
    await v.page.mouse.move(box.x + 14, box.y + 14)
    await v.page.mouse.down()
    await v.page.mouse.move(box.x + 80, box.y + 40, { steps: 4 })
    await v.page.mouse.move(box.x + 14, box.y + 14, { steps: 4 })
    await v.page.mouse.up()
    expect(await v.picture()).toEqual(before)
    await v.page.mouse.down()
    await v.page.mouse.move(box.x + 80, box.y + 40, { steps: 4 })
    expect(await v.picture()).not.toEqual(before)
    await v.page.keyboard.press('Escape')
    await v.page.mouse.up()
    expect(await v.picture()).toEqual(before)
    expect(await v.button('Undo').isDisabled()).toBe(true)
  })

  it('to a place that breaks a rule says so in a sentence with millimetres, while dragging and after', async () => {
    await anew()
    const box = (await v.item('lamp').boundingBox())!
    await v.page.mouse.move(box.x + 14, box.y + 14)
    await v.page.mouse.down()
    await v.page.mouse.move(box.x - 400, box.y + 14, { steps: 5 })
    expect(await v.sheet.textContent()).toMatch(/Does not fit like this\..*lamp.*\d mm/is)
    await v.page.mouse.up()
    await v.settled()
    expect(await v.sheet.textContent()).toMatch(/Nothing fits with lamp held there.*lamp/is)
    expect(await v.card('centred').textContent()).toMatch(/Cannot fit with lamp held there, because /)
    await v.sheet.getByRole('button', { name: 'Free all' }).click()
    await v.settled()
    expect(await v.sheet.textContent()).not.toMatch(/Nothing fits|Does not fit/)
  })
})

describe('by keyboard alone', () => {
  it('arrows move, Shift and arrows turn, Space holds and frees, Escape takes back, Ctrl-Z and Ctrl-Shift-Z travel', async () => {
    await anew()
    await v.card('beside').click()
    const before = await v.picture()
    await v.row('lamp').focus()
    const left = numberIn((await v.row('lamp').textContent())!.replace(/.*high/, ''))
    await v.page.keyboard.press('ArrowRight')
    expect(numberIn((await v.row('lamp').textContent())!.replace(/.*high/, ''))).toBe(left + 1)
    await v.page.keyboard.press('Escape')
    expect(await v.picture()).toEqual(before)
    await v.page.keyboard.press('ArrowRight')
    await v.page.keyboard.press('ArrowRight')
    await v.page.keyboard.press('Space')
    await v.settled()
    expect(await v.row('lamp').getAttribute('aria-pressed')).toBe('true')
    await v.page.keyboard.press('Space')
    expect(await v.row('lamp').getAttribute('aria-pressed')).toBe('false')
    await v.page.keyboard.press('Control+z')
    expect(await v.row('lamp').getAttribute('aria-pressed')).toBe('true')
    await v.page.keyboard.press('Control+z')
    expect(await v.picture()).toEqual(before)
    await v.page.keyboard.press('Control+Shift+Z')
    await v.settled()
    expect(await v.row('lamp').getAttribute('aria-pressed')).toBe('true')
    await v.page.keyboard.press('Control+z')
    await v.item('pack').focus()
    await v.page.keyboard.press('Shift+ArrowLeft')
    await v.settled()
    expect(await v.picture()).not.toEqual(before)
    await v.page.keyboard.press('Control+z')
    expect(await v.picture()).toEqual(before)
  })

  it('reaches cards, tools, items and their marks with Tab', async () => {
    await anew()
    const reached = new Set<string>()
    const names = ['Rename', 'Start view', 'Save a file', 'centred', 'beside', 'brain', 'Download SVG']
    const missing = () => names.filter((name) => ![...reached].some((r) => r.includes(name)))
    for (let i = 0; i < 120 && (LONG || missing().length > 0); i++) {
      await v.page.keyboard.press('Tab')
      reached.add(
        await v.page.evaluate(
          () => document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '',
        ),
      )
    }
    expect(missing()).toEqual([])
  })
})

describe('files', () => {
  it('a broken file leaves the document as it was and lists path, found and expected', async () => {
    await anew()
    const before = await v.picture()
    const bad = {
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: 'x',
      decks: [],
      items: [{ id: 'a', count: 0.5 }],
    }
    const scrolled = (): Promise<number> => v.page.evaluate(() => window.scrollY)
    await v.page.evaluate(() => window.scrollTo(0, 800))
    const far = await scrolled()
    expect(far).toBeGreaterThan(400)
    await v.open('bad.json', bad)
    const alert = v.page.getByRole('alert').filter({ hasText: 'bad.json was not opened' })
    await alert.waitFor()
    // Wherever the page was scrolled to, it is seen, and putting it aside leads back.
    await expect.poll(async () => (await alert.boundingBox())!.y).toBeGreaterThanOrEqual(0)
    expect((await alert.boundingBox())!.y).toBeLessThan(500)
    const said = await alert.textContent()
    expect(said).toMatch(/items\[0\]\.count.*found 0\.5; expected/)
    expect(said).toMatch(/items\[0\]\.footprint/)
    expect(await v.picture()).toEqual(before)
    await alert.getByRole('button', { name: 'Put this aside' }).click()
    expect(await alert.count()).toBe(0)
    await expect.poll(scrolled).toBe(far)
  })

  it('hands out the template beside its cautions', async () => {
    await anew()
    const cautions = await v.page.getByRole('list', { name: 'Cautions' }).textContent()
    expect(cautions).toMatch(/eye protection.*laser.*local rules/s)
    const [download] = await Promise.all([v.page.waitForEvent('download'), v.button(/^Download SVG/).click()])
    const svg = await readFile((await download.path())!, 'utf8')
    expect(download.suggestedFilename()).toBe('greenhouse-scout-centred-main.svg')
    for (const id of ['cut', 'drill', 'existing', 'mark', 'notes']) expect(svg).toContain(`id="${id}"`)
  })
})

describe('another document', () => {
  it('save and open again give the same picture', async () => {
    await anew()
    await v.card('beside').click()
    await v.settled()
    await v.drag('damp', 6, -10)
    await v.settled()
    const picture = await v.picture()
    const [download] = await Promise.all([v.page.waitForEvent('download'), v.button('Save').click()])
    const text = await readFile((await download.path())!, 'utf8')
    expect(download.suggestedFilename()).toBe('greenhouse-scout.json')
    await v.open('again.json', JSON.parse(text))
    await v.allSolved()
    await v.card('beside').click()
    await v.settled()
    expect(await v.picture()).toEqual(picture)
    expect(await v.item('damp').getAttribute('aria-pressed')).toBe('true')
  })

  it('a new deck is empty and of the size asked for', async () => {
    await v.page.getByRole('button', { name: 'Start view', exact: true }).click()
    const form = v.page.getByRole('form', { name: 'Begin with an empty deck' })
    await form.getByLabel('Width').fill('130')
    await form.getByLabel('Length').fill('5')
    await form.getByRole('button', { name: 'New deck', exact: true }).click()
    await form.getByRole('alert').waitFor()
    await form.getByLabel('Length').fill('9 cm')
    await form.getByRole('button', { name: 'New deck', exact: true }).click()
    await v.page.getByText('This deck is empty.').waitFor()
    await v.solved()
    expect(await v.picture()).toEqual([])
    const [download] = await Promise.all([v.page.waitForEvent('download'), v.button(/^Download SVG/).click()])
    expect(await readFile((await download.path())!, 'utf8')).toContain('id="cut"')
  })

  it('moves no other item where there is room, and as few as it must where there is none', async () => {
    await v.open('bricks.json', bricks)
    await v.settled()
    const before = await v.picture()
    const mm = await v.pixelsPerMm()
    await v.drag('left', 20 * mm, 25 * mm)
    await v.settled()
    const apart = await v.picture()
    expect(apart.filter((l) => !before.includes(l))).toEqual([
      'left, brick: 20 mm from the left, 5 mm from the back, held here',
    ])
    expect(await v.sheet.textContent()).toContain('Everything else stayed where it was.')
    // Now onto the one in the middle: that one gives way, the third has no reason to.
    await v.drag('left', 45 * mm, -25 * mm)
    await v.settled()
    const moved = (await v.picture()).filter((l) => !apart.includes(l))
    expect(moved.map((l) => l.split(',')[0])).toEqual(['left', 'middle'])
    expect(await v.sheet.textContent()).toMatch(/To make room, middle moved [\d.]+ mm\./)
    expect(await v.sheet.textContent()).toContain('Nothing is wrong in this layout.')
  })

  it('goes from deck to deck, and to another deck by keyboard too', async () => {
    await v.open('storeys.json', storeys)
    await v.settled()
    const mm = await v.pixelsPerMm()
    // The name stands at the deck's upper left corner: 20 mm to the right of it and 20 mm under it there is room.
    const name = (await v.plan.getByText('high deck, front').boundingBox())!
    const from = (await v.item('left').boundingBox())!
    await v.drag('left', name.x + 20 * mm - from.x, name.y + name.height + 20 * mm - from.y)
    await v.settled()
    expect((await v.picture()).find((l) => l.startsWith('left'))).toMatch(/^left, brick: high deck, .*held here$/)
    await v.row('middle').click()
    await v.page.getByRole('combobox', { name: 'Deck of middle' }).selectOption({ label: 'high deck' })
    await v.settled()
    expect((await v.picture()).find((l) => l.startsWith('middle'))).toMatch(/^middle, brick: high deck/)
  })

  it('a file whose notes of the page are damaged opens, and names what is passed over', async () => {
    const { base } = bricks.page.placements
    const page = {
      holds: { base: ['lef', 'right'] },
      placements: { base: [{ ...base[0], turn: 7 }, ...base.slice(1)] },
    }
    await v.open('notes.json', { ...bricks, page })
    const alert = v.page.getByRole('alert').filter({ hasText: 'Not understood in notes.json' })
    await alert.waitFor()
    const said = await alert.textContent()
    expect(said).toMatch(/page\.holds\.base\[0\].*found "lef"; expected.*did you mean "left"/)
    expect(said).toMatch(/page\.placements\.base\[0\]\.turn.*found 7; expected one of 0, 1, 2, 3/)
    expect(said).toContain('may be gone with the next save')
    await v.settled()
    expect(await v.item('right').getAttribute('aria-label')).toMatch(/held/)
    await alert.getByRole('button', { name: 'Put this aside' }).click()
  })
})

describe('3D', () => {
  it.runIf(LONG)('has pixels of many colours, and draws no frame at rest', async () => {
    const round = await openBrowser()
    v = await visit(round)
    await v.solved()
    const canvas = v.page.locator('.view-scene canvas')
    await expect.poll(() => canvas.getAttribute('data-frames'), { timeout: 30_000 }).not.toBeNull()
    expect(await coloursOf(v.page, canvas)).toBeGreaterThan(50)
    await v.page.mouse.move(2, 2)
    let frames = await canvas.getAttribute('data-frames')
    const still = async (): Promise<boolean> => {
      const before = frames
      frames = await canvas.getAttribute('data-frames')
      return frames === before
    }
    await expect.poll(still, { timeout: 30_000, interval: 300 }).toBe(true)
    await v.page.waitForTimeout(1000)
    expect(await canvas.getAttribute('data-frames')).toBe(frames)
    await v.row('lamp').focus()
    await expect.poll(() => canvas.getAttribute('data-frames')).not.toBe(frames)
    await round.close()
  })
})
