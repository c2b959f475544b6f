/** The whole job by somebody who has never seen the page: from nothing to a template in hand, with a pointer and by keyboard alone. */
import { readFile } from 'node:fs/promises'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Hand, keys, pointer } from './hands.ts'
import { closePages, plainBrowser, type Visit, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const contactsOn = async (v: Visit, card: string): Promise<number> =>
  Number(/(\d+) free contacts/.exec((await v.card(card).textContent()) ?? '')?.[1])

async function story(v: Visit, hand: Hand): Promise<void> {
  const { page } = v
  const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })

  // A deck from nothing, in inches and in millimetres.
  await hand.type(page.getByLabel('Width'), '6 1/2"')
  await hand.type(page.getByLabel('Length'), '105')
  await hand.press(button('New deck, and shape it…'))
  const bench = page.getByRole('dialog', { name: /^Decks/ })
  await bench.waitFor()
  expect(await bench.getByLabel('Width', { exact: true }).inputValue()).toBe('165.1')
  const fold = (name: string) => bench.locator('summary').filter({ hasText: name })
  await hand.press(fold('Holes'))
  await hand.press(bench.getByRole('button', { name: 'Add a hole', exact: true }))
  const hole = bench.getByRole('group', { name: 'Hole hole-1', exact: true })
  await hand.type(hole.getByLabel('x', { exact: true }), '1/2 in')
  await hand.type(hole.getByLabel('y', { exact: true }), '95,5')
  await hand.press(fold('Openings and slots'))
  await hand.press(bench.getByRole('button', { name: 'Add a slot', exact: true }))
  await bench.getByRole('group', { name: /^Slot slot-1/ }).waitFor()
  await page.keyboard.press('Escape')

  // Parts, found by word and by size.
  const line = page.getByRole('combobox', { name: /^Which part/ })
  for (const [search, id] of [
    ['breadboard 170', 'breadboard-170'],
    ['46 x 18 ultrasonic', 'sensor-ultrasonic'],
  ] as const) {
    await hand.press(button('Add a part…'))
    await hand.type(line, search, 'Enter')
    await v.row(id).waitFor()
    await v.settled()
  }

  // Where one of them has to stand, as a sentence.
  await hand.press(button('Change sensor-ultrasonic'))
  const fields = page.getByRole('region', { name: /^What sensor-ultrasonic is/ })
  await hand.press(fields.getByRole('button', { name: 'Add', exact: true }))
  await hand.type(fields.getByLabel('how far at most'), '4')
  await v.settled()
  // 46 mm the longer way, so that at least 105 − 4 − 46 = 55 mm lie behind it.
  const behind = async () =>
    Number(
      /([\d.]+) mm from the back/.exec((await v.picture()).find((l) => l.startsWith('sensor-ultrasonic')) ?? '')?.[1],
    )
  await expect.poll(behind).toBeGreaterThanOrEqual(55)

  // Another way of asking: two boards, or none.
  await v.allSolved()
  const before = await contactsOn(v, 'base')
  expect(before).toBeGreaterThan(0)
  await hand.press(button('Add a copy of base'))
  const change = page.getByRole('form', { name: 'Change something' })
  await hand.choose(change.getByRole('combobox', { name: 'What', exact: true }), 'breadboard-170')
  await hand.choose(change.getByRole('combobox', { name: 'How', exact: true }), 'how many of it')
  await hand.type(change.getByLabel('To', { exact: true }), '2')
  await hand.press(change.getByRole('button', { name: 'Change it' }))
  await v.allSolved()
  expect(await contactsOn(v, 'base-2')).toBeGreaterThan(before)
  expect(await v.card('base-2').textContent()).toMatch(/\+\d+ contacts.* against base/)

  // One of them where the user wants it, and what that costs.
  await hand.carry(v, 'breadboard-170 1')
  await v.settled()
  expect((await v.picture()).find((l) => l.startsWith('breadboard-170 1'))).toMatch(/held here$/)
  await page
    .getByText(/^Held here: /)
    .first()
    .waitFor()

  // In hand.
  await hand.press(button('Files to make it from…'))
  const sheet = page.getByRole('dialog', { name: /^Files to make/ })
  const save = sheet.getByRole('button', { name: /^Download .*\.svg$/ })
  await expect.poll(() => save.isEnabled()).toBe(true)
  const [download] = await Promise.all([page.waitForEvent('download'), hand.press(save)])
  const svg = await readFile((await download.path())!, 'utf8')
  expect(svg).toContain('id="cut"')
  // The sheet's margin is 12 mm; y goes down there: 105 − 95.5 = 9.5.
  expect(svg).toContain('<circle cx="24.7" cy="21.5"')
  await hand.press(sheet.getByRole('button', { name: 'Close' }))
  const [kept] = await Promise.all([page.waitForEvent('download'), hand.press(button('Save a file'))])
  const project = JSON.parse(await readFile((await kept.path())!, 'utf8'))
  expect(project.decks[0].holes).toEqual([expect.objectContaining({ id: 'hole-1', at: [12.7, 95.5] })])
  expect(project.decks[0].openings).toHaveLength(1)
  expect(project.items[1].place).toEqual([{ kind: 'edge', edge: 'front', within: 4 }])
}

for (const hands of LONG ? [keys, pointer] : [keys])
  it(`ten minutes are enough from an empty deck to a template, ${hands === keys ? 'by keyboard alone' : 'with a pointer'}`, {
    timeout: 240_000,
  }, async () => {
    const from = performance.now()
    const v = await visit(browser, { demo: 'none' })
    const hand = hands(v.page)
    v.page.setDefaultTimeout(15_000)
    await story(v, hand)
    const took = (performance.now() - from) / 1000
    if (LONG) console.log(`${hand.name}: ${took.toFixed(1)} s`)
    expect(took).toBeLessThan(600)
    expect(v.errors).toEqual([])
    await v.context.close()
  })
