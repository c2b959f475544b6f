import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openBrowser, type Visit, violations, visit } from './visit.ts'

let browser: Browser
beforeAll(async () => {
  browser = await openBrowser(false)
})
afterAll(() => browser.close())

/** The deck workshop as a user has it. */
function workshop({ page }: Visit) {
  const dialog = page.getByRole('dialog', { name: /^Decks/ })
  const plan = dialog.getByRole('group', { name: /^Plan of the deck/ })
  /** A row of a list, by what it is called there. */
  const row = (name: string): Locator => dialog.getByRole('group', { name, exact: true })
  return {
    dialog,
    plan,
    row,
    part: (name: string): Locator => plan.getByRole('button', { name: new RegExp(`^${name},`) }),
    tool: (name: string): Promise<void> => dialog.getByRole('radio', { name, exact: true }).check(),
    /** Types into a field and leaves it. */
    type: async (inside: Locator, label: string, text: string): Promise<void> => {
      const field = inside.getByLabel(label, { exact: true })
      await field.fill(text)
      await field.press('Enter')
    },
    /** Drags from one place of the deck to another, mm. */
    drag: async (from: readonly [number, number], to: readonly [number, number]): Promise<void> => {
      const points = await plan.evaluate(
        (svg, mm) => {
          const matrix = (svg.querySelector('.deck') as SVGGraphicsElement).getScreenCTM()!
          return mm.map(([x, y]) => new DOMPoint(x, y).matrixTransform(matrix)).map((p) => [p.x, p.y] as const)
        },
        [from, to] as const,
      )
      const [a, b] = points
      await page.mouse.move(a![0], a![1])
      await page.mouse.down()
      await page.mouse.move((a![0] + b![0]) / 2, (a![1] + b![1]) / 2)
      await page.mouse.move(b![0], b![1])
      await page.mouse.up()
    },
  }
}

describe('the deck workshop', () => {
  it('makes a deck from nothing, by typing, dragging and keys, and gives every step back', {
    timeout: 120_000,
  }, async () => {
    const v = await visit(browser, { width: 1024, height: 700, colorScheme: 'dark', demo: 'none' })
    const { page } = v
    const w = workshop(v)
    await page.getByLabel('Width').fill('6 1/2"')
    await page.getByLabel('Depth').fill('10,5 cm')
    await page.getByRole('button', { name: 'New deck, and shape it…' }).click()
    const plate = w.dialog
    await expect.poll(() => plate.getByLabel('Width', { exact: true }).inputValue()).toBe('165.1')
    expect(await plate.getByLabel('Depth', { exact: true }).inputValue()).toBe('105')
    const undo = plate.getByRole('button', { name: 'Undo' })
    expect(await undo.isDisabled()).toBe(true)

    // A wrong number is said by its field and changes nothing.
    await w.type(plate, 'Corner radius', '60')
    expect(await plate.getByRole('alert').textContent()).toMatch(/This is “60”; needed is 0 to 52.5 mm/)
    expect(await undo.isDisabled()).toBe(true)
    await w.type(plate, 'Corner radius', '1/4 in')
    expect(await plate.getByLabel('Corner radius', { exact: true }).inputValue()).toBe('6.35')
    await plate.getByText('The plate', { exact: true }).click()

    // Dragged, then typed over.
    await w.tool('makes an opening')
    await w.drag([30, 20], [60.2, 39.8])
    await w.tool('makes a slot')
    await w.drag([80, 80], [120, 80])
    await w.tool('makes a hole')
    await w.drag([20, 90], [20, 90])
    await w.row('Hole hole-1').waitFor()
    expect(await w.part('Opening opening-1').getAttribute('aria-label')).toBe('Opening opening-1, 30 × 20 mm at 30, 20')
    expect(await w.part('Opening slot-1').getAttribute('aria-label')).toBe('Opening slot-1, 44 × 4 mm at 78, 78')
    await w.type(w.row('Hole hole-1'), 'x', '1 in')
    await expect.poll(() => w.part('Hole hole-1').getAttribute('aria-label')).toBe('Hole hole-1, at 25.4, 90 mm')
    await w.type(w.row('Hole hole-1'), 'x', '170')
    await expect
      .poll(() =>
        w
          .row('Hole hole-1')
          .getByText(/outside the plate/)
          .count(),
      )
      .toBe(1)

    // A button makes one in the middle and leads into its numbers.
    await plate.getByRole('button', { name: 'Add a hole', exact: true }).press('Enter')
    await w.row('Hole hole-2').waitFor()
    await page.keyboard.press('Control+a')
    await page.keyboard.type('3 3/4 in')
    await page.keyboard.press('Enter')
    await expect.poll(() => w.part('Hole hole-2').getAttribute('aria-label')).toBe('Hole hole-2, at 95.25, 53 mm')

    // The focused shape by keys: moved as one step, taken back by the document's undo, taken back halfway by Escape.
    await w.tool('moves what is there')
    await w.part('Hole hole-1').focus()
    for (const key of ['ArrowLeft', 'ArrowLeft', 'ArrowDown', 'Enter']) await page.keyboard.press(key)
    await expect.poll(() => w.part('Hole hole-1').getAttribute('aria-label')).toBe('Hole hole-1, at 168, 89 mm')
    await page.keyboard.press('Control+z')
    await expect.poll(() => w.part('Hole hole-1').getAttribute('aria-label')).toBe('Hole hole-1, at 170, 90 mm')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Escape')
    expect(await w.part('Hole hole-1').getAttribute('aria-label')).toBe('Hole hole-1, at 170, 90 mm')
    await page.keyboard.press('Delete')
    await expect.poll(() => w.part('Hole hole-1').count()).toBe(0)

    // A second deck, and a pillar through both.
    await plate.getByRole('button', { name: 'Add a deck over it' }).click()
    await plate.getByRole('radio', { name: 'deck 2' }).waitFor()
    await page.keyboard.press('Control+z')
    await expect.poll(() => plate.getByRole('radio', { name: 'main deck' }).isChecked()).toBe(true)
    await plate.getByRole('button', { name: 'Copy this deck' }).click()
    await plate.getByRole('radio', { name: /^copy of/ }).waitFor()
    await w.tool('makes a pillar’s holes in two decks')
    await w.drag([150, 20], [150, 20])
    await expect.poll(() => w.part('Hole pillar-1').count()).toBe(1)
    await plate.getByRole('radio', { name: 'main deck', exact: true }).check()
    await expect.poll(() => w.part('Hole pillar-1').count()).toBe(1)

    // A photo, scaled by two points: 80 mm lie between pixel 100 and pixel 900.
    await plate.getByText('A photo underneath').click()
    await plate
      .getByLabel('Photo of the plate')
      .setInputFiles({ name: 'plate.png', mimeType: 'image/png', buffer: await page.screenshot() })
    for (const [point, x] of [
      ['First point', '100'],
      ['Second point', '900'],
    ] as const) {
      const fields = plate.getByRole('group', { name: point, exact: true })
      await w.type(fields, 'Pixels from the left', x)
      await w.type(fields, 'Pixels from the top', '500')
    }
    await w.type(plate, 'Distance between them, measured', '8 cm')
    await w.type(plate.getByRole('group', { name: 'The first point lies at' }), 'x', '10')
    await w.type(plate.getByRole('group', { name: 'The first point lies at' }), 'y', '5')
    await plate.getByText('One pixel is 0.1 mm.').waitFor()
    expect(await w.plan.locator('image').getAttribute('transform')).toBe('matrix(0.1 0 0 -0.1 0 55)')
    expect(await violations(page)).toEqual([])

    // Everything back, down to the empty deck.
    await undo.focus()
    for (let k = 0; k < 40 && (await undo.isEnabled()); k++) await page.keyboard.press('Control+z')
    await expect.poll(() => w.plan.getByRole('button').count()).toBe(0)
    await page.keyboard.press('Escape')
    await expect.poll(() => plate.count()).toBe(0)
    await v.plan.waitFor()
    expect(v.errors).toEqual([])
    await v.context.close()
  })
})
