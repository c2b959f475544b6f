/** Finding, adding, changing and describing parts, by keyboard and by pointer, as somebody does it who sees the page for the first time. */
import { readFile } from 'node:fs/promises'
import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bricks } from './sample.ts'
import { closePages, openBrowser, plainBrowser, type Visit, violations, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

let browser: Browser
beforeAll(async () => {
  // Only what is described is looked at in 3D.
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const line = (v: Visit) => v.page.getByRole('combobox', { name: /^Which part/ })
const hits = (v: Visit) => v.page.getByRole('listbox', { name: 'Parts found' }).getByRole('option')
const items = (v: Visit) => v.page.getByRole('region', { name: 'Items' })
const come = async (by = browser): Promise<Visit> => {
  const v = await visit(by, { demo: 'none' })
  await v.open('bricks.json', bricks)
  await v.item('left').waitFor()
  await v.settled()
  return v
}
/** Lets files go over an element. */
const drop = (on: Locator, files: readonly (readonly [string, string])[]): Promise<void> =>
  on.evaluate((element, all) => {
    const dataTransfer = new DataTransfer()
    for (const [name, text] of all) dataTransfer.items.add(new File([text], name))
    for (const kind of ['dragover', 'drop'])
      element.dispatchEvent(new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer }))
  }, files)
const leave = async (v: Visit): Promise<void> => {
  expect(v.errors).toEqual([])
  await v.context.close()
}

describe('a part that is being described', () => {
  it('is there again after Esc, Close and a reload, until it is begun anew', async () => {
    const v = await come()
    const bench = v.page.getByRole('dialog', { name: 'Describe a part' })
    const again = async (): Promise<void> => {
      await v.button('Add a part…').click()
      await v.button('Describe a new part…').click()
      await bench.getByLabel('Width', { exact: true }).waitFor()
    }
    const stands = async () => [
      await bench.getByLabel('Name', { exact: true }).inputValue(),
      await bench.getByLabel('Width', { exact: true }).inputValue(),
      await bench.getByRole('group', { name: /^Terminal t/ }).count(),
    ]
    await again()
    await bench.getByLabel('Name', { exact: true }).fill('relay card')
    await bench.getByLabel('Width', { exact: true }).fill('63,5')
    for (let k = 0; k < 3; k++) await bench.getByRole('button', { name: 'Add a terminal' }).click()
    await v.page.keyboard.press('Escape')
    await v.page.getByText('The part as you described it is not in the project yet.').waitFor()
    await again()
    expect(await stands()).toEqual(['relay card', '63.5', 3])
    await bench.getByText(/^This is your part so far/).waitFor()
    expect(await violations(v.page)).toEqual([])
    // A field that was typed in last and not left.
    await bench.getByLabel('Width', { exact: true }).fill('64')
    await bench.getByRole('button', { name: 'Close' }).click()
    await v.page.reload()
    await v.item('left').waitFor()
    await again()
    expect(await stands()).toEqual(['relay card', '64', 3])
    await bench.getByRole('button', { name: 'Begin anew' }).click()
    expect(await stands()).toEqual(['a new part', '50', 0])
    await bench.getByRole('button', { name: 'Undo' }).click()
    expect(await stands()).toEqual(['relay card', '64', 3])
    await bench.getByRole('button', { name: 'Measured by hand' }).click()
    await bench.getByRole('button', { name: 'Keep it and add one' }).click()
    await v.row('my-part').waitFor()
    await again()
    expect(await stands()).toEqual(['a new part', '50', 0])
    await leave(v)
  })
})

// The story adds and changes parts in every run.
describe.runIf(LONG)('parts', () => {
  it('are found, added, changed and removed by keyboard alone', async () => {
    const v = await come()
    await v.row('left').focus()
    await v.page.keyboard.press('Control+Enter')
    // nothing of what is typed at once is lost
    await v.page.keyboard.type('bredboard 170')
    expect(await line(v).inputValue()).toBe('bredboard 170')
    expect(await hits(v).count()).toBe(1)
    expect(await hits(v).textContent()).toContain('47 × 35 mm')
    if (LONG) expect(await violations(v.page)).toEqual([])
    await v.page.keyboard.press('Enter')
    await v.row('breadboard-170').waitFor()
    // the focus is where it was
    expect(await v.row('left').evaluate((e) => e === document.activeElement)).toBe(true)
    await v.settled()
    expect(await v.item('breadboard-170').count()).toBe(1)

    await v.button('Change middle').focus()
    await v.page.keyboard.press('Enter')
    const fields = v.page.getByRole('region', { name: /^What middle is/ })
    await fields.getByRole('button', { name: 'Add', exact: true }).press('Enter')
    const within = fields.getByLabel('how far at most')
    await expect.poll(() => within.evaluate((e) => e === document.activeElement)).toBe(true)
    expect(await within.inputValue()).toBe('10')
    await within.fill('-3')
    await within.press('Enter')
    expect(await fields.getByRole('alert').textContent()).toContain('0 to 10000 mm')
    await within.fill('1/2"')
    await within.press('Enter')
    expect(await within.inputValue()).toBe('12.7')
    await fields.getByLabel('which edge').selectOption('left')
    await v.settled()
    expect(await v.item('middle').getAttribute('aria-label')).toMatch(/: (\d|1[0-2])(\.\d+)? mm from the left/)
    await fields.getByLabel('Name').fill('core')
    await fields.getByLabel('Name').press('Enter')
    const renamed = v.page.getByRole('region', { name: /^What core is/ })
    await renamed.getByLabel('How many').fill('2')
    await renamed.getByLabel('How many').press('Enter')
    await items(v)
      .getByRole('button', { name: /^core 2\b/ })
      .waitFor()
    if (LONG) expect(await violations(v.page)).toEqual([])

    await renamed.getByRole('button', { name: 'Remove…' }).press('Enter')
    await v.page.getByRole('button', { name: 'Remove it' }).press('Enter')
    await expect.poll(() => items(v).getByRole('button', { name: /^core/ }).count()).toBe(0)
    for (let k = 0; k < 6; k++) await v.button('Undo').press('Enter')
    await v.row('middle').waitFor()
    expect(await v.row('breadboard-170').count()).toBe(1)
    await leave(v)
  })

  it('come as files with a project, and what was not taken is named', async () => {
    const v = await come()
    const part = (id: string) => ({
      id,
      source: 'invented',
      body: { width: 9, depth: 9, height: 9 },
      mount: { kind: 'adhesive' },
    })
    await drop(v.page.locator('body'), [
      ['one.json', JSON.stringify(part('one'))],
      ['again.json', JSON.stringify(bricks)],
      ['third.json', JSON.stringify(bricks)],
      ['cut.json', '{'],
    ])
    const said = v.page.getByRole('status').filter({ hasText: 'again.json is open' })
    await said.waitFor()
    expect(await said.textContent()).toMatch(/part in one\.json.*third\.json was not taken.*cut\.json cannot be used/)
    expect(await v.page.getByRole('alert').textContent()).toContain('cut.json was not opened')
    await said.getByRole('button', { name: 'Put this aside' }).click()
    expect(await said.count()).toBe(0)
    await leave(v)
  })

  it('come where the deck is pointed at, and nothing else moves', async () => {
    const v = await come()
    const before = await v.picture()
    const box = (await v.plan.locator('g[data-deck="0"] path.deck').boundingBox())!
    // the middle of the free stretch at the back
    await v.page.mouse.dblclick(box.x + box.width * 0.3, box.y + box.height * 0.88)
    await line(v).fill('46 x 18 ultrasonic')
    await line(v).press('Enter')
    await v.item('sensor-ultrasonic').waitFor()
    await v.settled()
    const after = await v.picture()
    expect(after.filter((l) => !l.startsWith('sensor'))).toEqual(before)
    await leave(v)
  })

  it('are described from measurements, seen, kept in the project and as a file', async () => {
    const round = await openBrowser()
    const v = await come(round)
    await v.button('Add a part…').click()
    await v.button('Describe a new part…').click()
    const bench = v.page.getByRole('dialog', { name: 'Describe a part' })
    await bench.getByLabel('Name').fill('relay board')
    await bench.getByLabel('Id, as the file has it').fill('relay')
    await bench.getByLabel('Width', { exact: true }).fill('2in')
    await bench.getByLabel('Depth', { exact: true }).fill('x')
    await bench.getByLabel('Depth', { exact: true }).press('Enter')
    expect(await bench.getByRole('alert').count()).toBe(1)
    await bench.getByRole('button', { name: 'Measured by hand' }).click()
    // a field that is wrong keeps the part back
    await bench.getByRole('button', { name: 'Keep it and add one' }).click()
    expect(await bench.getByLabel('Depth', { exact: true }).evaluate((e) => e === document.activeElement)).toBe(true)
    await bench.getByLabel('Depth', { exact: true }).fill('26')
    await bench.getByLabel('How it is held').selectOption('screwed down')
    await bench.getByLabel('Across').fill('44')
    await bench.getByLabel('Along').fill('20')
    await bench.getByRole('button', { name: 'Put them in' }).click()
    const fourth = bench.getByRole('group', { name: 'Hole h4' })
    expect(await fourth.getByLabel('u', { exact: true }).inputValue()).toBe('47.4')
    await bench.getByRole('button', { name: 'Add a terminal' }).click()
    await bench.getByText('More of what it carries').click()
    await bench.getByLabel('Volts at most').fill('5')
    await bench.getByLabel('Conductors that end here').fill('2')
    await bench.getByLabel('It looks at something without turning').check()
    await bench.getByLabel('View width, degrees').fill('40')
    await bench.getByRole('button', { name: 'Add a lamp' }).click()
    await bench.getByLabel('It has to do with power').check()
    await bench.getByLabel('It draws a current').check()
    await bench.getByLabel('Running, A').fill('0,07')
    await bench.getByLabel('Works up to, V').fill('5.5')
    await bench.getByLabel('Works up to, V').press('Enter')
    await bench.getByRole('img', { name: /^The part from above.*50.8 × 26 mm/ }).waitFor()
    await bench.getByRole('img', { name: /^The part in 3D/ }).waitFor()
    expect(await violations(v.page)).toEqual([])
    const [file] = await Promise.all([
      v.page.waitForEvent('download'),
      bench.getByRole('button', { name: 'Download as a file' }).click(),
    ])
    const written = JSON.parse(await readFile(await file.path(), 'utf8')) as Record<string, unknown>
    expect(written).toMatchObject({
      format: 'deckwright-footprint',
      id: 'relay',
      body: { width: 50.8, depth: 26, height: 10 },
      source: 'measured by hand',
      terminals: [{ id: 't1', at: [2, 2], volts: [5, 5], conductors: 2 }],
      view: { from: [25.4, 26, 5], width: 40, height: 30 },
      indicators: [{ id: 'lamp1', at: [25.4, 13] }],
      power: { load: { running: 0.07, max: 5.5 } },
    })
    // the file comes back as it went, and what is no part leaves it as it is
    await drop(bench, [['plate.svg', '<svg/>']])
    expect(await bench.getByRole('alert').textContent()).toMatch(/plate\.svg was not opened.*drawing/s)
    await drop(bench, [
      ['relay.json', JSON.stringify({ ...written, mass: 9 })],
      ['other.json', '{}'],
    ])
    await bench.getByText(/The part is now as relay\.json says/).waitFor()
    expect(await bench.getByText(/other\.json was not taken/).count()).toBe(1)
    expect(await bench.getByLabel('Mass, g').inputValue()).toBe('9')
    await bench.getByRole('button', { name: 'Keep it and add one' }).click()
    await v.item('relay').waitFor()
    await v.button('Undo').click()
    expect(await v.row('relay').count()).toBe(0)
    await leave(v)
    await round.close()
  })
})
