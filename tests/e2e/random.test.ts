/** A long evening with the page: what anybody could do, in any order; then everything taken back gives the first document again. */
import { readFile } from 'node:fs/promises'
import { type Browser, errors, type Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bricks } from './sample.ts'
import { closePages, plainBrowser, type Visit, visit } from './visit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
// of a few short ones that of which most is undone
const SEEDS = LONG ? [1, 2, 3] : [6]
const STEPS = LONG ? 500 : 10

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

const saved = async (v: Visit): Promise<string> => {
  const [download] = await Promise.all([v.page.waitForEvent('download'), v.button('Save a file').click()])
  return readFile((await download.path())!, 'utf8')
}

/** Presses what is there and can be pressed. */
async function pressIf(what: Locator): Promise<void> {
  if ((await what.count()) > 0 && (await what.isEnabled())) await what.click()
}

type Random = (below: number) => number

/** A linear congruential generator with the constants of Numerical Recipes, from memory; any would do. */
function randomFrom(seed: number): Random {
  let state = seed
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return Math.floor((state / 2 ** 32) * below)
  }
}

/** One thing that somebody does: nothing where it is not on offer just now. */
const DEEDS: Readonly<Record<string, (v: Visit, random: Random) => Promise<void>>> = {
  drag: async (v, random) => {
    const all = v.plan.getByRole('button', { name: / from the left/ })
    const count = await all.count()
    if (count === 0) return
    const box = await all.nth(random(count)).boundingBox()
    if (!box) return
    await v.page.mouse.move(box.x + 8, box.y + 8)
    await v.page.mouse.down()
    await v.page.mouse.move(box.x + 8 + random(160) - 80, box.y + 8 + random(120) - 60, { steps: 3 })
    if (random(4) === 0) await v.page.keyboard.press('Escape')
    await v.page.mouse.up()
  },
  keys: async (v, random) => {
    const rows = v.page.getByRole('region', { name: 'Items' }).locator('button.row')
    const count = await rows.count()
    if (count === 0) return
    await rows.nth(random(count)).focus()
    const keys = [
      'ArrowLeft',
      'ArrowRight',
      'ArrowUp',
      'ArrowDown',
      'Shift+ArrowLeft',
      'Shift+ArrowRight',
      'Space',
      'Escape',
    ]
    for (let k = random(5) + 1; k > 0; k--) await v.page.keyboard.press(keys[random(keys.length)]!)
  },
  undo: (v) => pressIf(v.button('Undo')),
  redo: (v) => pressIf(v.button('Redo')),
  undoByKey: (v) => v.page.keyboard.press('Control+z'),
  free: (v) => pressIf(v.sheet.getByRole('button', { name: 'Free all' })),
  card: async (v, random) => {
    const cards = v.page.locator('nav button.card')
    await cards.nth(random(await cards.count())).click()
  },
  rename: async (v, random) => {
    await v.button('Rename the document').click()
    await v.page.keyboard.press('Control+a')
    await v.page.keyboard.type(`Carrier ${random(100)}`)
    await v.page.keyboard.press(random(3) === 0 ? 'Escape' : 'Enter')
  },
  add: async (v, random) => {
    if ((await v.page.locator('button.row').count()) > 6) return
    await v.button('Add a part…').click()
    await v.page.keyboard.type(['breadboard 170', 'ultrasonic', 'brick'][random(3)]!)
    await v.page.keyboard.press('Enter')
    if (await v.page.getByRole('listbox', { name: 'Parts found' }).count()) await v.page.keyboard.press('Escape')
  },
  remove: async (v, random) => {
    const openers = v.page.getByRole('region', { name: 'Items' }).getByRole('button', { name: /^Change / })
    const count = await openers.count()
    if (count < 3) return
    const opener = openers.nth(random(count))
    if ((await opener.getAttribute('aria-expanded')) !== 'true') await opener.click()
    await v.button('Remove…').first().click()
    await v.button('Remove it').click()
  },
  change: async (v, random) => {
    const openers = v.page.getByRole('region', { name: 'Items' }).getByRole('button', { name: /^Change / })
    const count = await openers.count()
    if (count === 0) return
    const opener = openers.nth(random(count))
    if ((await opener.getAttribute('aria-expanded')) !== 'true') await opener.click()
    const fields = v.page.getByRole('region', { name: /^What .* is, and where/ })
    if (random(2)) {
      await fields.getByLabel('How many').fill(String(1 + random(2)))
      await v.page.keyboard.press('Enter')
    } else await fields.getByLabel('Must it be there?').selectOption({ index: random(2) })
  },
  copy: async (v) => {
    if ((await v.page.locator('nav button.card').count()) < 3) await v.button(/^Add a copy of/).click()
  },
  removeVariant: (v) => pressIf(v.button(/^Delete /)),
  mark: (v) => pressIf(v.button(/^Compare with this/).first()),
  note: async (v, random) => {
    const notes = v.page.getByLabel(/^Your note on/)
    await notes.nth(random(await notes.count())).fill(`looks better ${random(10)}`)
    await v.page.keyboard.press(random(3) === 0 ? 'Escape' : 'Enter')
  },
  order: async (v, random) => {
    const goals = v.page.getByRole('button', { name: /in what matters$/ })
    const count = await goals.count()
    if (count === 0) return
    await goals.nth(random(count)).focus()
    await v.page.keyboard.press(random(2) ? 'ArrowLeft' : 'ArrowRight')
  },
  look: async (v, random) => {
    const box = await v.plan.first().boundingBox()
    if (!box) return
    await v.page.mouse.move(box.x + 60, box.y + 60)
    await v.page.mouse.wheel(0, random(400) - 250)
  },
  deck: async (v, random) => {
    await v.button('Deck…').click()
    const bench = v.page.getByRole('dialog', { name: /^Decks/ })
    await bench.locator('summary').filter({ hasText: 'The plate' }).waitFor()
    const width = bench.getByLabel('Width', { exact: true })
    if (await width.count()) {
      await width.fill(String(150 + random(20)))
      await width.press('Enter')
    }
    await bench.getByRole('button', { name: 'Done' }).click()
  },
}

async function session(v: Visit, seed: number, steps: number): Promise<{ readonly missed: readonly string[] }> {
  const random = randomFrom(seed)
  const names = Object.keys(DEEDS)
  const missed: string[] = []
  for (let k = 0; k < steps; k++) {
    const name = names[random(names.length)]!
    try {
      await DEEDS[name]!(v, random)
    } catch (error) {
      // What was on offer went away while it was reached for, as the solver comes and goes.
      if (!(error instanceof errors.TimeoutError)) throw error
      missed.push(`${k} ${name}: ${error.message.slice(0, 200)}`)
      await v.page.keyboard.press('Escape')
    }
    expect(v.errors, `after step ${k}, ${name}, seed ${seed}`).toEqual([])
  }
  return { missed }
}

describe('any session', () => {
  for (const seed of SEEDS)
    it(`of ${STEPS} steps with seed ${seed} is undone to the first document, byte for byte`, {
      timeout: STEPS * 3000,
    }, async () => {
      const v = await visit(browser, { demo: 'none' })
      await v.open('bricks.json', bricks)
      await v.settled()
      const first = await saved(v)
      const from = performance.now()
      v.page.setDefaultTimeout(4000)
      const { missed } = await session(v, seed, STEPS)
      expect(missed.length, missed.join('\n')).toBeLessThanOrEqual(STEPS / 10)
      const [undo, redo] = [v.button('Undo'), v.button('Redo')]
      // It may have ended on steps taken back.
      while (await redo.isEnabled()) await redo.click()
      const last = await saved(v)
      expect(last).not.toBe(first)
      let steps = 0
      for (; await undo.isEnabled(); steps++) await undo.click()
      expect(steps).toBeGreaterThan(STEPS / 10)
      expect(await saved(v)).toBe(first)
      while (await redo.isEnabled()) await redo.click()
      expect(await saved(v)).toBe(last)
      expect(v.errors).toEqual([])
      if (LONG)
        console.log(
          `${STEPS} steps, ${steps} undone, ${missed.length} missed, ${((performance.now() - from) / 1000).toFixed(0)} s`,
        )
      await v.context.close()
    })
})
