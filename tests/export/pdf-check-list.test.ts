/** The check list before power as printed pages, read back by a renderer that is not ours; and as the inspection of a demo hands it over. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { type CheckList, pdfPages } from '../../src/export/pdf.ts'
import { checkListOf, inspect } from '../../src/inspect/index.ts'
import { plainIn } from '../../src/model/called.ts'
import { placementsOf, readLayout, readProject, toProblem } from '../../src/model/index.ts'
import { reading } from './pdf-read.ts'

const root = join(import.meta.dirname, '../..')
const library = loadLibrary()

/** A demo with the layout that is kept beside the tests. */
function inspected(name: string, variant: string) {
  const file = `${name}.${variant}.layout.json`
  const read = readProject(readFileSync(join(root, `demo-data/${name}.json`)), name, library)
  const layout = readLayout(readFileSync(join(root, 'tests/fixtures/demos', file)), file)
  if (!read.ok || !layout.ok) throw new Error(`${file} cannot be read`)
  const problem = toProblem(read.value, variant, library)
  const { placements } = placementsOf(problem, layout.value)
  return { problem, placements, report: inspect(read.value, library, problem, placements) }
}

const { problem, placements, report } = inspected('greenhouse-scout', 'beside')
const flat = (text: string): string => text.replace(/\s+/g, '')
const printed = (list: CheckList | undefined, parts = ['before-power'] as const) =>
  pdfPages(problem, placements, { parts, ...(list ? { checkList: list } : {}) })

describe('the check list before power, on paper', () => {
  it('has the cautions first, then every step in its order with its reason and a box to tick', async () => {
    const list = checkListOf(report)!
    expect(list.steps.length).toBe(report.beforePower.steps.length)
    expect(list.cautions.join(' ')).toMatch(/Local codes.*licensed practice come first/)
    await reading(await printed(list), async (pages) => {
      const text = flat(pages.map((p) => p.text).join(' '))
      let at = 0
      for (const said of [...list.cautions, ...list.steps.flatMap((s) => [s.text, s.why ?? ''])]) {
        const words = flat(plainIn([problem])(said))
        const next = text.indexOf(words, at)
        expect(next, said).toBeGreaterThanOrEqual(at)
        at = next + words.length
      }
      let boxes = 0
      for (const page of pages) {
        const squares = (await page.blobs('#000000', 130)).filter(
          (b) => Math.abs(b.width - 3.25) < 0.3 && Math.abs(b.height - 3.25) < 0.3,
        )
        boxes += squares.length
      }
      expect(boxes).toBe(list.steps.length)
      for (const p of pages) expect(p.text).toContain('check list before power: page')
    })
  })

  it('goes on over as many pages as it takes, a step and its reason on one', async () => {
    const steps = Array.from({ length: 60 }, (_, i) => ({
      text: `Look at lead ${i + 1}. ${'It is held at both ends. '.repeat(4)}`,
      why: `Reason ${i + 1}.`,
    }))
    await reading(await printed({ cautions: ['Mind it.'], steps, missing: ['No motor is named.'] }), async (pages) => {
      expect(pages.length).toBeGreaterThan(2)
      expect(pages[0]!.text).toContain('No motor is named.')
      for (const p of pages) {
        const leads = [...p.text.matchAll(/Look at lead (\d+)\./g)].map((m) => m[1])
        expect([...p.text.matchAll(/Reason (\d+)\./g)].map((m) => m[1])).toEqual(leads)
      }
    })
  })

  it('is no page where it was not handed over, and is not made of a robot that has nothing electrical', async () => {
    await expect(printed(undefined)).rejects.toThrow('no page')
    const { power: _, pins: __, leads: ___, ...bare } = report
    expect(checkListOf(bare)).toBeUndefined()
  })
})
