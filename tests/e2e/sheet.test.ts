/** The findings sheet and what was worked out below the stage, as a user meets them: nothing fits, a button mends it, the robot is checked. */
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Any, robotFile } from '../inspect/kit.ts'
import { bricks } from './sample.ts'
import { closePages, plainBrowser, violations, visit } from './visit.ts'

let browser: Browser
beforeAll(async () => {
  // 3D is another test's: without it the time is that of the sheet.
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const { page: _, ...loose } = bricks
const tight = {
  ...loose,
  name: 'Tight',
  settings: { grid: 5, edgeClearance: 4 },
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 65, 35] } }],
  items: loose.items.slice(0, 2).map((item) => ({ ...item, turns: [0] })),
}

const long = process.env.DECKWRIGHT_LONG === '1'

/** Of the robot of the inspection's tests its pack without a fuse, and the switch; on a coarse grid, so that it is soon solved. */
function unfused(): Any {
  const file = robotFile()
  const here = (list: readonly Any[], ids: readonly string[]) => list.filter(({ id }) => ids.includes(id))
  const pack = here(file.footprints, ['pack'])[0]!
  pack.power.supply.fuse = undefined
  return {
    ...file,
    settings: { grid: 10 },
    decks: [file.decks[0]],
    passes: [],
    items: here(file.items, ['pack', 'master']).map((item) => ({ ...item, turns: [0] })),
    wires: here(file.wires, ['battery']),
    nets: here(file.nets, ['battery']),
  }
}

it('what would make it fit is a button, undo brings all back, and layouts with the same figures are leafed through', async () => {
  const v = await visit(browser, { demo: 'none' })
  await v.open('tight.json', tight)
  const remedy = v.sheet.getByRole('button', { name: /^Edge clearance 4 → \d/ })
  await remedy.waitFor()
  expect(await v.sheet.textContent()).toMatch(/Nothing fits.*must be placed/s)
  await remedy.click()
  await v.settled()
  expect(await v.sheet.textContent()).toContain('Best possible.')
  // Once the inspection has looked too.
  await v.sheet.getByText('Nothing is wrong in this layout.').waitFor()
  expect(await v.page.evaluate(() => document.activeElement?.id)).toBe('sheet-title')
  const before = await v.picture()
  await v.sheet.getByRole('button', { name: 'Another layout with the same figures?' }).click()
  await v.sheet.getByText(/^The first of \d layouts/).waitFor()
  await v.sheet.getByRole('button', { name: 'The next one' }).click()
  await v.sheet.getByText(/^Another layout with the same figures, 2 of \d: \d items? stands? elsewhere\.$/).waitFor()
  expect(await v.picture()).not.toEqual(before)
  await v.button('Undo').click()
  expect(await v.picture()).toEqual(before)
  await v.button('Undo').click()
  await remedy.waitFor()
  expect(v.errors).toEqual([])
  await v.context.close()
})

it('where nothing fits nothing is said to be left out, and nobody is asked to drag what is not there', async () => {
  const v = await visit(browser, { demo: 'none' })
  const items = [...tight.items, { id: 'spare', footprint: 'brick', required: false }]
  await v.open('tight.json', { ...tight, items })
  await v.sheet.getByText(/^Nothing fits\./).waitFor()
  await v.page.getByText(/^No item has a place\. Choose one in the list/).waitFor()
  expect(await v.row('spare').textContent()).toMatch(/has no place yet$/)
  await v.context.close()
})

it('findings light what they speak of, the report opens part by part, and ticks are there again after a reload', async () => {
  const v = await visit(browser, { demo: 'none', colorScheme: 'dark', width: 1024, height: 700 })
  const file = unfused()
  await v.open('robot.json', file)
  await v.solved()
  const finding = v.sheet.getByRole('button', { name: /fuse/ }).first()
  await finding.click()
  expect(await finding.getAttribute('aria-pressed')).toBe('true')
  await expect.poll(() => v.page.locator('.plan .item.faulty').getAttribute('aria-label')).toMatch(/^pack/)
  const report = v.page.getByRole('region', { name: 'Worked out from this layout' })
  const open = (name: string) => report.getByRole('button', { name, exact: true }).click()
  await open('Wires to cut')
  const table = report.getByRole('table', { name: 'Wires, lengths in mm' })
  await table.waitFor()
  expect(await table.getByRole('row').count()).toBe(1 + file.wires.length)
  await open('Balance')
  const slope = report.getByRole('slider', { name: 'Slope' })
  await slope.focus()
  for (let i = 0; i < 3; i++) await v.page.keyboard.press('ArrowRight')
  expect(await slope.getAttribute('aria-valuetext')).toBe('3° of slope')
  await report.getByText(/^On a slope of 3° with the front downhill .* passes [\d.]+ mm inside/).waitFor()
  await open('Before power is on')
  const boxes = report.getByRole('checkbox')
  await boxes.nth(1).check()
  await report.getByText(/^1 of \d+ steps ticked\.$/).waitFor()
  if (long) expect(await violations(v.page)).toEqual([])
  await v.page.reload()
  await open('Before power is on')
  await report.getByText(/^1 of \d+ steps ticked\.$/).waitFor()
  expect(await boxes.nth(1).isChecked()).toBe(true)
  expect(v.errors).toEqual([])
  await v.context.close()
})
