/** Variants as a user handles them: marked, noted, copied, made to differ, side by side, and undone to the first. */
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser, violations, visit } from './visit.ts'

/** Invented: so small that it is solved at once, with room for an arm and for a mast. */
const tray = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Seed tray',
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 90, 45] } }],
  footprints: [
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'brick',
      name: 'brick',
      source: 'invented',
      kind: 'part',
      body: { width: 30, depth: 24, height: 12 },
      mount: { kind: 'adhesive' },
    },
    {
      format: 'deckwright-footprint',
      version: 1,
      id: 'pegboard',
      name: 'pegboard',
      source: 'invented',
      kind: 'breadboard',
      body: { width: 30, depth: 20, height: 8 },
      mount: { kind: 'adhesive' },
      above: 0,
      breadboard: { pitch: 2.54, blocks: [{ at: [2, 4], columns: 10, rows: 5, strip: 'column' }] },
    },
  ],
  settings: { grid: 5 },
  items: [
    { id: 'brain', footprint: 'brick' },
    { id: 'bench', footprint: 'pegboard', count: 4, required: false },
    { id: 'arm', footprint: 'brick', later: true },
  ],
  zones: [{ id: 'mast', kind: 'reserved', deck: 'main', shape: { rect: [0, 0, 30, 30] }, why: 'a mast next year' }],
  variants: [{ id: 'with-arm' }, { id: 'no-arm', name: 'never an arm', omit: ['arm'] }],
}

let browser: Browser
beforeAll(async () => {
  browser = await openBrowser()
}, 60_000)
afterAll(() => browser.close())

// The story copies and compares variants in every run.
describe.runIf(process.env.DECKWRIGHT_LONG === '1')('variants', () => {
  it('are compared, noted, copied, made to differ and set side by side, and every step is undone', async () => {
    const v = await visit(browser, { demo: 'none' })
    const { page } = v
    await v.open('tray.json', tray)
    await v.card('with-arm').waitFor()
    await v.allSolved()
    const nav = page.getByRole('navigation', { name: 'Variants' })
    const cards = nav.getByRole('listitem')

    // One scale on all cards, and figures against the marked one.
    const boxes = await nav
      .locator('svg.small-plan')
      .evaluateAll((all) =>
        all.map((svg) => [svg.getAttribute('viewBox')!.split(' ').slice(2).join(' '), svg.clientWidth]),
      )
    expect(boxes).toHaveLength(2)
    expect(boxes[1]).toEqual(boxes[0])
    expect(await v.card('no-arm').textContent()).toMatch(/\+\d+ contacts.* against with-arm/)
    await v.button('Compare with this: no-arm').click()
    expect(await v.card('with-arm').textContent()).toMatch(
      /−\d+ contacts.*compared with no-arm: \d+ fewer free contacts/,
    )
    expect(await nav.getByRole('status').textContent()).toBe('All 2 variants have their answers.')

    // A note in place.
    await page.getByLabel('Your note on no-arm').fill('looks better')
    await page.keyboard.press('Enter')

    // What room for later costs was worked out by the other variant.
    const bar = page.getByRole('region', { name: /^What with-arm asks$/ })
    await bar.getByText(/The place of arm is kept free here\. Released, it would have \d+ more free contacts/).waitFor()
    await bar
      .getByText('Zone mast (a mast next year) is kept free here. What it costs has not been worked out yet.')
      .waitFor()
    await bar.getByRole('button', { name: /^Release it: Zone mast/ }).click()
    await bar.getByText(/Zone mast .* is released here\. Kept, it would have /).waitFor()

    // A copy begins solved; made to differ, it is asked for alone.
    await bar.getByRole('button', { name: 'Add a copy of with-arm' }).click()
    await v.card('with-arm-2').waitFor()
    expect(await v.card('with-arm-2').textContent()).toContain('Best possible.')
    const change = page.getByRole('form', { name: 'Change something' })
    await change.getByRole('combobox', { name: 'What', exact: true }).selectOption({ label: 'bench' })
    await change
      .getByRole('combobox', { name: 'How', exact: true })
      .selectOption({ label: 'which way it may be turned' })
    await change.getByRole('checkbox', { name: 'half round' }).uncheck()
    await change.getByRole('button', { name: 'Change it' }).click()
    await page
      .getByRole('button', {
        name: /^As in all: bench: not turned, turned a quarter to the left and turned a quarter to the right here/,
      })
      .waitFor()
    expect(await cards.count()).toBe(3)

    // Two on the stage, one selection, one way of looking.
    await v.button('Show beside: no-arm').click()
    const plans = page.getByRole('group', { name: /^Plan of/ })
    expect(await plans.count()).toBe(2)
    await plans
      .nth(1)
      .getByRole('button', { name: /^brain\b/ })
      .focus()
    expect(await plans.nth(0).locator('.selected, [class*="selected"]').count()).toBeGreaterThan(0)
    const views = () => plans.evaluateAll((all) => all.map((svg) => svg.getAttribute('viewBox')))
    const before = await views()
    await plans.nth(1).scrollIntoViewIfNeeded()
    const box = (await plans.nth(1).boundingBox())!
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page.mouse.wheel(0, -240)
    await expect.poll(views).not.toEqual(before)
    const [one, two] = await views()
    expect(one).toBe(two)
    await page.getByText('arm is not there').waitFor()
    const scenes = page.locator('.view-scene canvas')
    await expect.poll(() => scenes.count(), { timeout: 20_000 }).toBe(2)
    const frames = () => scenes.evaluateAll((all) => all.map((c) => Number((c as HTMLElement).dataset.frames ?? 0)))
    await expect.poll(async () => Math.min(...(await frames())), { timeout: 20_000 }).toBeGreaterThan(0)
    const [still] = await frames()
    await scenes.nth(1).scrollIntoViewIfNeeded()
    const round = (await scenes.nth(1).boundingBox())!
    await page.mouse.move(round.x + 60, round.y + 60)
    await page.mouse.down()
    await page.mouse.move(round.x + 120, round.y + 60, { steps: 3 })
    await page.mouse.up()
    await expect.poll(async () => (await frames())[0]).toBeGreaterThan(still!)
    await v.button('Show one alone').click()
    expect(await page.getByRole('group', { name: /^Plan/ }).count()).toBe(1)

    // What matters, by keyboard; the focus stays on what was moved.
    const wires = () => page.getByRole('button', { name: /^shortest wires, \d of 4/ })
    await wires().focus()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowLeft')
    expect(await wires().getAttribute('aria-label')).toBe('shortest wires, 1 of 4 in what matters')
    expect(await wires().evaluate((b) => b === document.activeElement)).toBe(true)

    expect(await violations(page)).toEqual([])
    const undo = v.button('Undo')
    for (let i = 0; i < 7; i++) await undo.click()
    expect(await undo.isDisabled()).toBe(true)
    expect(await cards.count()).toBe(2)
    expect(await page.getByLabel('Your note on no-arm').inputValue()).toBe('')
    expect(await v.card('no-arm').textContent()).toMatch(/\+\d+ contacts.* against with-arm/)

    // Enter held down deletes one, and no more: the keys are on the card of the next by then.
    await bar.getByRole('button', { name: /^Add a copy of / }).click()
    await expect.poll(() => cards.count()).toBe(3)
    await page.getByRole('button', { name: 'Delete with-arm-2' }).focus()
    for (let i = 0; i < 3; i++) await page.keyboard.down('Enter')
    await page.keyboard.up('Enter')
    const onCard = () => page.evaluate(() => document.activeElement?.matches('.cards .on-stage'))
    await expect.poll(onCard).toBe(true)
    expect(await cards.count()).toBe(2)
    expect(v.errors).toEqual([])
    await v.context.close()
  }, 60_000)
})
