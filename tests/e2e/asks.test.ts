/** While a hand carries an item the solver shows where others would go; held, the item says what that costs. */
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { project } from '../app/store-sample.ts'
import { closePages, plainBrowser, visit } from './visit.ts'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

it('a drag is answered on the way, and what is held tells its cost', async () => {
  const v = await visit(browser, { demo: 'none' })
  // of one size whichever way they stand, so that the one that is dragged hides the other
  const items = project.items.slice(0, 2).map((item) => ({ ...item, turns: [0] }))
  await v.open('moss.json', { ...project, settings: { grid: 5 }, items, variants: [] })
  await v.solved()
  const [one, two] = [await v.item('one').boundingBox(), await v.item('two').boundingBox()]
  const near = (box: typeof one) => ({ x: box!.x + 6, y: box!.y + 6 })
  const [from, to] = [near(two), near(one)]
  await v.page.mouse.move(from.x, from.y)
  await v.page.mouse.down()
  await v.page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2, { steps: 3 })
  await v.page.mouse.move(to.x, to.y, { steps: 3 })
  await v.sheet.getByText('Does not fit like this. One other would make room.').waitFor()
  await v.page.mouse.up()
  await v.settled()
  // where the other one is free to follow, nothing is lost
  await v.page
    .getByText(/^Held here: (costs nothing|.* mm more conductor)\.$/)
    .first()
    .waitFor()
  expect(v.errors).toEqual([])
  await v.context.close()
})
