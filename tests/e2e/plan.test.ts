import type { Browser } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { bricks } from './sample.ts'
import { closePages, plainBrowser, type Visit, violations, visit } from './visit.ts'

let browser: Browser
let v: Visit
const words = async (id: string): Promise<string | undefined> => (await v.picture()).find((l) => l.startsWith(id))

beforeAll(async () => {
  browser = await plainBrowser()
  v = await visit(browser, { demo: 'none' })
  await v.open('bricks.json', bricks)
})
afterAll(() => closePages(browser))
afterEach(async () => {
  await v.page.mouse.up()
  expect(v.errors).toEqual([])
})

/** Fingers, as the browser gets them from a touch screen. */
async function fingers(steps: readonly (readonly (readonly [number, number])[])[]): Promise<void> {
  const cdp = await v.context.newCDPSession(v.page)
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly (readonly [number, number])[]) =>
    cdp.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) })
  await send('touchStart', steps[0]!)
  for (const points of steps.slice(1)) await send('touchMove', points)
  await send('touchEnd', [])
}

describe('the plan', () => {
  it('comes nearer at the wheel about the pointer, is pushed by the free deck, and shows all again', async () => {
    await v.settled()
    const first = await v.pixelsPerMm()
    const at = (await v.item('right').boundingBox())!
    const eye = { x: at.x + at.width / 2, y: at.y + at.height / 2 }
    await v.page.mouse.move(eye.x, eye.y)
    await v.page.mouse.wheel(0, -400)
    await expect.poll(v.pixelsPerMm).toBeGreaterThan(first * 1.5)
    const near = (await v.item('right').boundingBox())!
    expect(Math.abs(near.x + near.width / 2 - eye.x)).toBeLessThan(2)
    expect(Math.abs(near.y + near.height / 2 - eye.y)).toBeLessThan(2)
    // Free deck beside the brick: the deck comes along with the pointer, and no item is moved.
    const before = await v.picture()
    await v.page.mouse.move(near.x - 30, near.y + 10)
    await v.page.mouse.down()
    await v.page.mouse.move(near.x - 5, near.y + 30, { steps: 3 })
    await v.page.mouse.up()
    const pushed = (await v.item('right').boundingBox())!
    expect([pushed.x - near.x, pushed.y - near.y].map(Math.round)).toEqual([25, 20])
    expect(await v.picture()).toEqual(before)
    await v.button('Whole deck').click()
    expect(await v.pixelsPerMm()).toBeCloseTo(first, 6)
    // The same by keys, with the plan itself in focus.
    await v.plan.focus()
    await v.page.keyboard.press('PageUp')
    expect(await v.pixelsPerMm()).toBeCloseTo(first * 1.5, 3)
    await v.page.keyboard.press('Home')
    expect(await v.pixelsPerMm()).toBeCloseTo(first, 6)
    expect(await v.picture()).toEqual(before)
  })

  it('says at the pointer what is wrong, draws lines where an item lines up, and pulls it there unless Alt is held', async () => {
    const mm = await v.pixelsPerMm()
    const box = (await v.item('left').boundingBox())!
    const from = { x: box.x + 14, y: box.y + 14 }
    const to = (dx: number, dy: number) => v.page.mouse.move(from.x + dx * mm, from.y - dy * mm, { steps: 3 })
    await v.page.mouse.move(from.x, from.y)
    await v.page.mouse.down()
    await to(50, 0)
    expect(await v.page.locator('.callout').textContent()).toMatch(/overlap by 15 mm/)
    await to(20, 21.3)
    expect(await v.page.locator('.callout').textContent()).toMatch(/It fits here/)
    expect(await words('left')).toMatch(/20 mm from the left, 51 mm from the back/)
    expect(await v.page.locator('.plan .guide').count()).toBe(0)
    // 1.4 mm short of the one beside it, and in line with it.
    await to(33.6, 0.6)
    expect(await words('left')).toMatch(/35 mm from the left, 30 mm from the back/)
    expect(await v.page.locator('.plan .guide').count()).toBeGreaterThan(0)
    await v.page.keyboard.down('Alt')
    await to(33.7, 0.7)
    expect(await words('left')).toMatch(/34 mm from the left, 31 mm from the back/)
    await v.page.keyboard.up('Alt')
    await v.page.keyboard.press('Escape')
    await v.page.mouse.up()
    expect(await v.button('Undo').isDisabled()).toBe(true)
    // The keys stay with an item of the plan while it moves under and over others.
    await v.item('left').focus()
    for (let i = 0; i < 3; i++) await v.page.keyboard.press('ArrowRight')
    expect(await words('left')).toMatch(/3 mm from the left, 30 mm from the back$/)
    await v.page.keyboard.press('Escape')
    expect(await words('left')).toMatch(/0 mm from the left, 30 mm from the back$/)
  })

  it('measures between two points, by keyboard too', async () => {
    await v.button('Measure').click()
    await v.plan.focus()
    await v.page.keyboard.press('Enter')
    for (let i = 0; i < 3; i++) await v.page.keyboard.press('ArrowRight')
    for (let i = 0; i < 4; i++) await v.page.keyboard.press('ArrowUp')
    await v.page.keyboard.press('Enter')
    await v.page.getByText('5 mm; 3 mm across, 4 mm along.').waitFor()
    await v.page.keyboard.press('Escape')
    expect(await v.button('Measure').getAttribute('aria-pressed')).toBe('false')
  })

  it('is worked by fingers: one carries, two come nearer', async () => {
    const mm = await v.pixelsPerMm()
    const box = (await v.item('left').boundingBox())!
    const [x, y] = [box.x + 12, box.y + 12]
    await fingers([[[x, y]], [[x + 10 * mm, y]], [[x + 20 * mm, y + 25 * mm]]])
    await v.settled()
    expect(await words('left')).toMatch(/20 mm from the left, 5 mm from the back, held here$/)
    const plan = (await v.plan.boundingBox())!
    const [cx, cy] = [plan.x + plan.width / 2, plan.y + plan.height / 2]
    const pair = (apart: number): (readonly [number, number])[] => [
      [cx - apart, cy - 90],
      [cx + apart, cy - 90],
    ]
    await fingers([pair(40), pair(60), pair(80)])
    await expect.poll(v.pixelsPerMm).toBeGreaterThan(mm * 1.8)
    await v.button('Whole deck').click()
    await v.button('Undo').click()
  })

  it('lets its keys be changed, refuses one that is taken in words, and has layers that axe finds nothing against', async () => {
    await v.page.getByText('Shown…').click()
    await v.page.getByLabel('Whole free strips and the largest free block').check()
    await v.page.getByLabel('Load on tracks and decks').check()
    expect(await violations(v.page)).toEqual([])
    await v.page.getByText('Shown…').click()
    await v.button('Keys…').click()
    const dialog = v.page.getByRole('dialog', { name: 'Keys' })
    await dialog.getByRole('button', { name: /^Hold or free the item/ }).click()
    await v.page.keyboard.press('Enter')
    await dialog.getByText('Enter is taken: “Open the item”. Give that another key first.').waitFor()
    await dialog.getByRole('button', { name: /^Hold or free the item/ }).click()
    await v.page.keyboard.press('Alt+h')
    await dialog.getByText('Hold or free the item: now Alt + H.').waitFor()
    expect(await violations(v.page)).toEqual([])
    await dialog.getByRole('button', { name: 'Close' }).click()
    await v.item('middle').focus()
    await v.page.keyboard.press('Space')
    expect(await v.item('middle').getAttribute('aria-pressed')).toBe('false')
    await v.page.keyboard.press('Alt+h')
    expect(await v.item('middle').getAttribute('aria-pressed')).toBe('true')
  })
})
