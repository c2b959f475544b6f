/** The main views as they were looked at and found good, light and dark. Layouts come with the files, so that every machine has the same. */

import type { Browser } from 'playwright-core'
import { PNG } from 'pngjs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { apart, looksOther } from './look-alike.ts'
import { bricks, storeys } from './sample.ts'
import { closePages, plainBrowser, type Visit, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const two = {
  ...storeys,
  variants: [{ id: 'open' }, { id: 'close', settings: { itemClearance: 5 } }],
  page: {
    holds: {},
    placements: {
      open: storeys.page.placements.base,
      close: storeys.page.placements.base.map((p, k) => ({ ...p, at: [k * 40, 20] })),
    },
  },
}

const pictures: Readonly<Record<string, (v: Visit) => Promise<void>>> = {
  stage: async (v) => {
    await v.sheet.getByText('Nothing is wrong in this layout.').waitFor()
  },
  'part-search': async (v) => {
    await v.button('Add a part…').click()
    await v.page.getByRole('combobox', { name: /^Which part/ }).fill('breadboard 400')
    await v.page.getByText('1 part found.').waitFor()
  },
  conflict: async (v) => {
    await v.page.keyboard.press('Escape')
    await v.row('left').focus()
    for (const key of ['ArrowLeft', 'ArrowLeft', 'Space']) await v.page.keyboard.press(key)
    await v.settled()
    await v.sheet.getByRole('button', { name: /^Let go of left/ }).waitFor()
    await v.page.evaluate(() => scrollTo(0, 0))
    await v.page.mouse.move(2, 2)
  },
  decks: async (v) => {
    await v.button('Undo').click()
    await v.open('storeys.json', storeys)
    await v.settled()
    await v.button('Deck…').click()
    await v.page
      .getByRole('dialog', { name: /^Decks/ })
      .locator('svg')
      .first()
      .waitFor()
  },
  pair: async (v) => {
    await v.page.keyboard.press('Escape')
    await v.open('two.json', two)
    await v.settled()
    await v.button('Show beside: close').click()
    await expect.poll(() => v.page.getByRole('group', { name: /^Plan of/ }).count()).toBe(2)
    await v.page.mouse.move(2, 2)
  },
  start: async (v) => {
    await v.page.getByRole('button', { name: 'Start view', exact: true }).click()
    await v.page.getByRole('heading', { name: 'What goes where on the deck?' }).waitFor()
  },
}

describe('looks', () => {
  it('are told apart where something is elsewhere, and not where all is the same', () => {
    const plain = new PNG({ width: 40, height: 20, fill: true })
    const other = new PNG({ width: 40, height: 20, fill: true })
    expect(apart(plain, other)).toBe(0)
    for (let k = 0; k < 16; k++) other.data[k * 4] = 200
    expect(apart(plain, other)).toBeCloseTo(16 / 800, 9)
    expect(apart(plain, new PNG({ width: 20, height: 20, fill: true }))).toBe(1)
  })

  for (const colorScheme of ['light', 'dark'] as const)
    it(`are as they were found good, ${colorScheme}`, async () => {
      const v = await visit(browser, { demo: 'none', colorScheme, width: 1280, height: 800 })
      await v.page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
      await v.open('bricks.json', bricks)
      await v.settled()
      const other: string[] = []
      for (const [name, go] of Object.entries(pictures)) {
        if (!LONG && colorScheme === 'dark' && name !== 'stage') continue
        await go(v)
        // The inspection has spoken, and it is known that there is no 3D here.
        await expect
          .poll(() => v.page.locator('.sheet-looks:not(.still), .scene-wait').count(), { timeout: 20_000 })
          .toBe(0)
        // When it was kept, and pictures that the solver draws as far as it comes in its time.
        const hide = [v.page.locator('.kept'), v.page.locator('.demo-plan, .works')]
        const wrong = await looksOther(v.page, `${name}-${colorScheme}`, hide)
        if (wrong) other.push(wrong)
      }
      expect(other).toEqual([])
      expect(v.errors).toEqual([])
      await v.context.close()
    })
})
