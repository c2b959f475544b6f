/** Variants side by side in the browser: each on a worker of its own, and one can be stopped without the other. */
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { crowd } from '../app/cli.ts'
import { closePages, plainBrowser, visit } from './visit.ts'

let browser: Browser
beforeAll(async () => {
  browser = await plainBrowser()
})
afterAll(() => closePages(browser))

/** Two variants that are never done, but soon have a first layout. */
const project = () => {
  const { items, wires, ...rest } = crowd()
  const variants = [
    { id: 'near', name: 'near' },
    { id: 'far', name: 'far', settings: { itemClearance: 1 } },
  ]
  return { ...rest, items: items.slice(0, 18), wires: wires.slice(0, 17), variants }
}

it.runIf(process.env.DECKWRIGHT_LONG === '1')(
  'two variants are laid out at the same time; stopping one keeps its layout and lets the other go on',
  async () => {
    const v = await visit(browser, { demo: 'none' })
    await v.open('crowd.json', project())
    // in the page itself, which has ten seconds for each variant, however slowly this test is served
    const seen = await v.page.evaluate(async () => {
      const cards = () => [...document.querySelectorAll('nav button.card')].map((c) => c.textContent ?? '')
      const looking = () => cards().filter((c) => c.includes('Looking for')).length
      const placed = () => cards().filter((c) => c.includes('of conductor')).length
      const button = () => [...document.querySelectorAll('button')].find((b) => b.textContent === 'Stop looking')
      /** Where it was: cards and lines over it grow meanwhile. */
      const stood = new Set<string>()
      const until = async (so: () => boolean) => {
        const from = performance.now()
        while (!so() && performance.now() - from < 30_000) {
          const { x, y } = button()?.getBoundingClientRect() ?? {}
          if (x !== undefined) stood.add(`${x}, ${y}`)
          await new Promise((go) => setTimeout(go, 5))
        }
      }
      await until(() => cards().length === 2 && looking() === 2)
      const atOnce = looking()
      await until(() => placed() === 2)
      const both = { placed: placed(), looking: looking() }
      const from = performance.now()
      button()?.click()
      await until(() => !button())
      return { atOnce, both, took: performance.now() - from, after: looking(), left: placed(), places: stood.size }
    })
    // 50 ms on a machine that does nothing else; here two solvers, a browser and a picture in software share it
    expect(seen.took).toBeLessThan(1500)
    expect(seen).toMatchObject({ atOnce: 2, both: { placed: 2, looking: 2 }, after: 1, left: 2, places: 1 })
    expect(v.errors).toEqual([])
    if (process.env.DECKWRIGHT_LONG === '1') console.log(`stopped after ${seen.took.toFixed(0)} ms`)
    await v.context.close()
  },
)

const bracket = {
  format: 'deckwright-footprint',
  version: 1,
  id: 'bracket',
  name: 'long bracket for the front sensors',
  source: 'invented',
  kind: 'part',
  body: { width: 10, depth: 10, height: 5 },
  mount: { kind: 'adhesive' },
}

it.each([
  [390, 844],
  [1024, 700],
])('what came in is told clear of the button that stops the search, %i pixels wide', async (width, height) => {
  const v = await visit(browser, { demo: 'none', width, height })
  const file = (name: string, contents: object) => {
    return { name, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(contents)) }
  }
  const both = [file('crowd.json', project()), file('bracket.json', bracket)]
  await v.page.getByLabel('Project file to open').setInputFiles(both)
  // What a hand meets that aims at the middle of each, once both are there: the search does not go on for ever.
  const met = await v.page.waitForFunction(() => {
    const names = ['Stop looking', 'Put this aside']
    const all = [...document.querySelectorAll('button')]
    const buttons = names.flatMap((name) => all.find((b) => b.textContent === name) ?? [])
    if (buttons.length < names.length) return false
    return buttons.map((b) => {
      const { x, y, width, height } = b.getBoundingClientRect()
      return document.elementFromPoint(x + width / 2, y + height / 2)?.textContent
    })
  })
  expect(await met.jsonValue()).toEqual(['Stop looking', 'Put this aside'])
  await v.context.close()
})
