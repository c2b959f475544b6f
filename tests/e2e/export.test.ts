/** From the page to the workshop and back: the export sheet, what was built, and a deck of one's own. */
import { readFile } from 'node:fs/promises'
import type { Browser, Locator } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { bricks } from './sample.ts'
import { closePages, plainBrowser, type Visit, violations, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
let here: Visit
const come = async (options?: Parameters<typeof visit>[1]): Promise<Visit> => {
  here = await visit(browser, { demo: 'none', ...options })
  return here
}

beforeAll(async () => {
  // 3D is nothing to these tests, and takes most of the time where it is drawn in software.
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))
afterEach(async () => {
  expect(here.errors).toEqual([])
  await here.context.close()
})

const carrier = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Tile tapper',
  settings: { grid: 1, minWeb: 2 },
  decks: [{ id: 'main', name: 'main deck', z: 40, thickness: 3, outline: { rect: [10, 20, 120, 80] } }],
  footprints: [
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'tapper',
      name: 'tapper',
      source: 'invented',
      kind: 'part',
      body: { width: 40, depth: 30, height: 12 },
      mount: {
        kind: 'screw',
        standoff: 5,
        holes: [
          { id: 'a', at: [5, 5], diameter: 3.4, screw: 'M3' },
          { id: 'b', at: [35, 25], diameter: 3.4, screw: 'M3' },
        ],
      },
    },
  ],
  items: [{ id: 'tapper', footprint: 'tapper' }],
}

const ready = async (sheet: Locator): Promise<void> =>
  sheet.locator('.previews[aria-busy=false]').waitFor({ timeout: 60_000 })

const open = async (v: Visit): Promise<Locator> => {
  await v.open('tile-tapper.json', carrier)
  await v.page.getByRole('heading', { name: 'Tile tapper' }).waitFor()
  await v.settled()
  await v.button('Files to make it from…').click()
  const sheet = v.page.getByRole('dialog', { name: 'Files to make base from' })
  await ready(sheet)
  return sheet
}

const downloaded = async (v: Visit, button: Locator): Promise<{ name: string; bytes: Buffer }> => {
  const [download] = await Promise.all([v.page.waitForEvent('download'), button.click()])
  return { name: download.suggestedFilename(), bytes: await readFile((await download.path())!) }
}

describe('the export sheet', () => {
  it('shows what it writes, in every format, and remembers what the machine asks for', async () => {
    const v = await come()
    let sheet = await open(v)
    const preview = sheet.getByRole('img', { name: 'main deck, as it stands in the file' })
    const address = (await preview.getAttribute('src'))!
    const inPreview = await v.page.evaluate(async (url) => (await fetch(url)).text(), address)
    const svg = await downloaded(v, sheet.getByRole('button', { name: /^Download .*svg$/ }))
    expect(svg.name).toBe('tile-tapper-base-main.svg')
    expect(svg.bytes.toString()).toBe(inPreview)
    expect(inPreview).toContain('id="cut"')

    await sheet.getByLabel('Kerf, mm').fill('11')
    expect(await sheet.getByRole('alert').textContent()).toContain('needed is 0 to 10 mm')
    expect(await sheet.getByRole('button', { name: /^Download .*svg$/ }).isDisabled()).toBe(true)
    expect(await sheet.getByText('1 file ready.').count()).toBe(0)
    await sheet.getByText(/^Nothing is ready: a number beside is not possible/).waitFor()
    await sheet.getByLabel('Kerf, mm').fill('0,2')
    await sheet.getByRole('checkbox', { name: /New holes are cut/ }).check()
    await expect.poll(() => preview.getAttribute('src')).not.toBe(address)
    await ready(sheet)
    const own = await downloaded(v, sheet.getByRole('button', { name: /^Download .*svg$/ }))
    expect(own.bytes.toString()).toMatch(/[Kk]erf[^<]*0\.2 mm/)
    expect(await violations(v.page)).toEqual([])

    const show = async (name: RegExp): Promise<void> => {
      await sheet.getByRole('radio', { name }).check()
      await ready(sheet)
    }
    await show(/^DXF/)
    // Both holes became cuts, so the layer for holes is not there.
    expect(await sheet.getByRole('figure').textContent()).toMatch(/Layer CUT: 3 lines(?!.*DRILL)/)
    await show(/^PDF/)
    const pdf = await downloaded(v, sheet.getByRole('button', { name: /^Download .*pdf$/ }))
    expect(pdf.bytes.subarray(0, 5).toString()).toBe('%PDF-')
    expect(await sheet.getByText(/^\d+ pages on A4/).count()).toBe(1)
    await show(/^CSV/)
    const rows = sheet.getByRole('table', { name: 'Holes to drill' }).getByRole('row')
    const csv = await downloaded(v, sheet.getByRole('button', { name: /-drill\.csv$/ }))
    const lines = csv.bytes.toString().trimEnd().split('\r\n')
    expect(await rows.count()).toBe(3)
    expect(lines).toHaveLength(3)
    expect((await rows.nth(1).getByRole('cell').allTextContents()).slice(0, 6)).toEqual(
      lines[1]!.split(',').slice(0, 6),
    )
    expect(await sheet.getByRole('region', { name: 'Screws, nuts and what else holds it' }).textContent()).toContain(
      'M3',
    )
    await show(/^glTF/)
    expect(await sheet.getByText(/\d+ parts of \d+ triangles/).count()).toBe(1)

    await v.page.keyboard.press('Escape')
    expect(await sheet.count()).toBe(0)
    await v.page.reload()
    sheet = await open(v)
    expect(await sheet.getByLabel('Kerf, mm').inputValue()).toBe('0.2')
    expect(await sheet.getByRole('checkbox', { name: /New holes are cut/ }).isChecked()).toBe(true)
  })

  it.runIf(LONG)('has no barriers in the dark and on a narrow screen', async () => {
    const v = await come({ colorScheme: 'dark', width: 420 })
    const sheet = await open(v)
    for (const name of [/^PDF/, /^CSV/]) {
      await sheet.getByRole('radio', { name }).check()
      await ready(sheet)
      expect(await violations(v.page), String(name)).toEqual([])
    }
    const wide = await v.page.evaluate(() => document.documentElement.scrollWidth)
    expect(wide).toBeLessThanOrEqual(420)
  })
})

describe('what was made', () => {
  it('becomes part of the deck in one step, and a hole can be put right', async () => {
    const v = await come()
    await v.open('tile-tapper.json', carrier)
    await v.page.getByRole('heading', { name: 'Tile tapper' }).waitFor()
    await v.settled()
    const built = v.page.getByRole('region', { name: 'Built' })
    expect(await built.textContent()).toContain('This layout needs 2 holes, all new.')
    const before = await v.picture()
    await v.button('It has been made…').click()
    expect(await built.textContent()).toContain('2 holes become part of the deck.')
    await v.button('Make them part of it').click()
    await v.settled()
    expect(await built.textContent()).toContain('This layout reuses 2 holes, and needs no new one.')
    expect(await v.picture()).toEqual(before)
    await built.getByText('2 holes in main deck').click()
    const x = built.getByLabel('x of hole built-1, mm')
    const was = Number(await x.inputValue())
    await x.fill('here')
    expect(await built.getByRole('alert').textContent()).toContain('This is “here”')
    await x.fill('900')
    await x.press('Enter')
    expect(await built.getByRole('alert').textContent()).toContain('within its outline')
    await x.fill(String(was + 2))
    await x.press('Enter')
    await v.settled()
    expect(await x.inputValue()).toBe(String(was + 2))
    await v.button('Undo').click()
    await v.button('Undo').click()
    await v.settled()
    expect(await built.textContent()).toContain('This layout needs 2 holes, all new.')
    expect(await v.picture()).toEqual(before)
  })

  it('is marked as built, one thing or all, stays so through a reload, and is unmarked in the sheet', async () => {
    const v = await come()
    await v.open('bricks.json', bricks)
    await v.page.getByRole('heading', { name: 'Brick carrier' }).waitFor()
    await v.settled()
    await v.row('left').click()
    await v.button('Mark it as built').click()
    await v.button('Unmark it').waitFor()
    await v.sheet.getByRole('heading', { name: 'Built where they stand' }).waitFor()
    expect(await v.plan.getByRole('button', { name: 'Free left' }).count()).toBe(0)
    const left = await v.item('left').getAttribute('aria-label')
    expect(left).toMatch(/, built here$/)
    await v.row('left').press('ArrowRight')
    await v.page.getByText('left was not moved, for it is marked as built. Unmark it first.').waitFor()
    // Another that is put in its place does not push it away.
    await v.drag('middle', -(await v.pixelsPerMm()) * 50, 0)
    await v.settled()
    expect(await v.item('left').getAttribute('aria-label')).toBe(left)
    await v.button('Undo').click()
    await v.button('Mark all as built where they stand').click()
    await v.page.getByText('All that has a place is marked as built.').waitFor()
    await v.page.getByText(/^Kept in this browser/).waitFor()
    await v.page.reload()
    await v.sheet.getByRole('button', { name: 'Unmark right' }).click()
    await v.sheet.getByRole('button', { name: 'Free right' }).waitFor()
    expect(await v.item('left').getAttribute('aria-label')).toBe(left)
    await v.button('Undo').click()
    await v.sheet.getByRole('button', { name: 'Unmark right' }).waitFor()
    expect(v.errors).toEqual([])
  })
})

describe('a deck of one’s own', () => {
  it('is asked for its unit, shown, and taken in one step; a bad file changes nothing', async () => {
    const v = await come()
    await v.open('tile-tapper.json', carrier)
    await v.page.getByRole('heading', { name: 'Tile tapper' }).waitFor()
    await v.settled()
    await v.button('Bring it in…').click()
    const sheet = v.page.getByRole('dialog', { name: 'Bring in what is there' })
    const give = (name: string, text: string): Promise<void> =>
      sheet
        .getByLabel('Its file', { exact: true })
        .setInputFiles({ name, mimeType: 'image/svg+xml', buffer: Buffer.from(text) })
    await give('broken.svg', '<svg xmlns="http://www.w3.org/2000/svg" width="90mm"><path d="M0 0')
    expect(await sheet.getByRole('alert').textContent()).toMatch(/cannot be used like this.*broken\.svg/s)
    const drawing = (head: string): string =>
      `<svg xmlns="http://www.w3.org/2000/svg" ${head}><rect x="0" y="0" width="100" height="70"/><circle cx="10" cy="60" r="2"/><rect x="40" y="5" width="20" height="8"/></svg>`
    await give('mine.svg', drawing(''))
    await sheet.getByLabel('One unit of the drawing is').selectOption('mm')
    const text = await sheet.textContent()
    expect(text).toContain('100 × 70 mm, 1 opening, 1 hole.')
    expect(await sheet.getByRole('img', { name: /^The deck: 100 × 70 mm/ }).count()).toBe(1)
    expect(await violations(v.page)).toEqual([])
    await sheet.getByRole('button', { name: 'Take it for main deck' }).click()
    expect(await sheet.count()).toBe(0)
    await v.settled()
    await v.page.getByText('1 hole in main deck').click()
    // The corner stays where the old deck had it, and y is turned to the front: 20 + 70 − 60.
    expect(await v.page.getByLabel('x of hole hole-1, mm').inputValue()).toBe('20')
    expect(await v.page.getByLabel('y of hole hole-1, mm').inputValue()).toBe('30')
    expect(await v.sheet.textContent()).toContain('Nothing is wrong in this layout.')
    await v.button('Undo').click()
    expect(await v.page.getByText('1 hole in main deck').count()).toBe(0)
    expect(await v.button('Undo').isDisabled()).toBe(true)
  })
})
