import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { closePages, plainBrowser, type Visit, violations, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

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
    await page.getByLabel('Length').fill('10,5 cm')
    await page.getByRole('button', { name: 'New deck, and shape it…' }).click()
    const plate = w.dialog
    await expect.poll(() => plate.getByLabel('Width', { exact: true }).inputValue()).toBe('165.1')
    expect(await plate.getByLabel('Length', { exact: true }).inputValue()).toBe('105')
    // the edge of what is written beside the plate is in pixels, or it would cover the plate's outline
    const edges = await plate
      .locator('.deck-name text')
      .evaluateAll((all) => all.map((t) => getComputedStyle(t).vectorEffect))
    expect(edges).toEqual(['non-scaling-stroke', 'non-scaling-stroke'])
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
    expect(await w.part('Slot slot-1').getAttribute('aria-label')).toBe('Slot slot-1, 44 × 4 mm at 78, 78')
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
    // Escape takes a question back, and not the workshop around it
    await plate.getByRole('button', { name: 'Remove this deck…' }).click()
    await plate.getByRole('button', { name: 'Keep it' }).waitFor()
    await page.keyboard.press('Escape')
    await plate.getByRole('button', { name: 'Keep it' }).waitFor({ state: 'detached' })
    expect(await plate.isVisible()).toBe(true)
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

  it.runIf(LONG)(
    'edits a drawing corner by corner, and the deck of one variant alone',
    {
      timeout: 240_000,
    },
    async () => {
      const v = await visit(browser, { width: 1024, height: 700 })
      const { page } = v
      const w = workshop(v)
      await page.getByRole('button', { name: 'Deck…' }).click()
      const { dialog, plan } = w
      const undo = dialog.getByRole('button', { name: 'Undo' })
      const variant = dialog.getByRole('combobox', { name: 'Variant', exact: true })
      const only = dialog.getByLabel('Change it in this variant only')
      const corner = (k: number): Locator => plan.getByRole('button', { name: new RegExp(`^Corner ${k} of `) })
      const corners = (): Promise<number> => plan.getByRole('button', { name: /^Corner/ }).count()
      const tells = async (text: string | RegExp): Promise<void> => dialog.getByText(text).first().waitFor()

      // In one variant alone: its plate is another, that of the others stays.
      await tells('What you change here holds in all variants.')
      await variant.selectOption('beside')
      await only.check()
      await tells(/^Changes of its outline, openings and holes hold in “beside” alone\./)
      const drawing =
        '<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="130mm" viewBox="0 0 180 130"><path d="M0 0H180V90L140 130H0Z"/></svg>'
      await dialog.getByRole('button', { name: /^Bring in its drawing/ }).click()
      await page
        .getByLabel('Its file', { exact: true })
        .setInputFiles({ name: 'plate.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(drawing) })
      await tells(/^This counts in variant “beside” alone/)
      await page.getByRole('button', { name: /^Take it for/ }).click()
      await tells(/^Its outline has 5 corners and is 180 × 130 mm large/)
      await only.uncheck()
      await tells(/^Changes of its outline, openings and holes hold in “beside” alone\./)
      await variant.selectOption('centred')
      await tells(/^Changes of its outline.* hold in all variants but “beside”, which has its own\.$/)
      expect(await dialog.getByLabel('Width', { exact: true }).inputValue()).toBe('192')
      await variant.selectOption('beside')

      // A corner by pointer, to the grid; by keys; by number.
      await dialog.getByRole('button', { name: 'Edit its corners' }).first().click()
      await expect.poll(corners).toBe(5)
      const names = await plan
        .getByRole('button', { name: /^Corner/ })
        .evaluateAll((all) => all.map((e) => e.ariaLabel ?? ''))
      const slant = names.findIndex((n) => n.includes('at 180, 40 mm')) + 1
      await w.drag([180, 40], [170.3, 30.4])
      await expect
        .poll(() => corner(slant).getAttribute('aria-label'))
        .toMatch(/at 170, 30 mm; the edge to the next is straight$/)
      await corner(slant).focus()
      for (const key of ['ArrowRight', 'ArrowRight', 'ArrowUp', 'Enter']) await page.keyboard.press(key)
      await expect.poll(() => corner(slant).getAttribute('aria-label')).toMatch(/at 172, 31 mm/)
      await page.keyboard.press('Insert')
      await expect.poll(corners).toBe(6)
      expect(await corner(slant + 1).evaluate((e) => e === document.activeElement)).toBe(true)
      await page.keyboard.press('Delete')
      await expect.poll(corners).toBe(5)
      for (const key of ['PageUp', 'PageUp', 'PageDown', 'PageDown']) await page.keyboard.press(key)
      await w.type(dialog, 'Corner x', '6 1/2"')
      await expect.poll(() => corner((slant % 5) + 1).getAttribute('aria-label')).toMatch(/at 165\.1, /)

      // What makes no shape is said, and taken back.
      const before = await plan.locator('.deck').getAttribute('d')
      await w.type(dialog, 'Corner x', '-200')
      expect(await dialog.getByRole('alert').textContent()).toMatch(/would cross or touch.* The shape is as it was\.$/)
      expect(await plan.locator('.deck').getAttribute('d')).toBe(before)
      await page.keyboard.press('Escape')
      await w.type(dialog, 'Round it off by radius', '1/2 in')
      await expect.poll(corners).toBe(6)
      await tells(/It is an arc of radius 12\.7 mm/)
      expect(await violations(page)).toEqual([])

      // A deck left out of the variant, and back again.
      await dialog.getByRole('button', { name: 'Add a deck over it' }).click()
      await dialog.getByRole('button', { name: 'Leave this deck out of “beside”' }).click()
      await dialog.getByRole('radio', { name: 'deck 2 (left out)' }).waitFor()
      await dialog.getByRole('button', { name: 'Have this deck in “beside” again' }).click()
      await dialog.getByRole('radio', { name: 'deck 2', exact: true }).waitFor()
      await dialog.getByRole('radio', { name: 'main deck' }).check()
      await dialog.getByRole('button', { name: /^Take outline, openings and holes as in all variants/ }).click()
      await expect.poll(() => dialog.getByLabel('Width', { exact: true }).inputValue()).toBe('192')

      await undo.focus()
      for (let k = 0; k < 40 && (await undo.isEnabled()); k++) await page.keyboard.press('Control+z')
      await tells('What you change here holds in all variants.')
      expect(v.errors).toEqual([])
      await v.context.close()
    },
  )
})
