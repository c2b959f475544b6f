/** Every demo reads without a word, survives writing, and becomes a problem in each of its variants. */
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { formatProblem, readProject, toProblem, variantsOf, writeProject } from '../../src/model/index.ts'

const folder = new URL('../../demo-data/', import.meta.url)
const demos = readdirSync(folder).filter((f) => f.endsWith('.json'))

describe.each(demos)('demo %s', (file) => {
  const text = readFileSync(new URL(file, folder), 'utf8')
  const read = readProject(text, file, loadLibrary())

  it('reads without problems or warnings', () => {
    expect([...(read.ok ? [] : read.problems), ...read.warnings].map(formatProblem)).toEqual([])
  })

  it('reads the same after being written', () => {
    if (!read.ok) throw new Error('unreadable')
    expect(read.value).toEqual(JSON.parse(text))
    const again = readProject(writeProject(read.value), file, loadLibrary())
    expect(again).toEqual({ ok: true, value: read.value, warnings: [] })
  })

  it('becomes a problem in every variant, with every index in range', () => {
    if (!read.ok) throw new Error('unreadable')
    for (const { id } of variantsOf(read.value)) {
      const p = toProblem(read.value, id, loadLibrary())
      expect(p.items.length).toBeGreaterThan(0)
      const deck = (i: number) => expect(p.decks[i]).toBeDefined()
      for (const e of p.exits) deck(e.deck)
      for (const z of p.zones) deck(z.deck)
      for (const i of p.items) for (const d of i.decks) deck(d)
      for (const w of p.wires) {
        for (const end of [w.from, w.to]) {
          if (end.kind === 'exit') expect(p.exits[end.exit]).toBeDefined()
          else for (const i of end.ref.items) expect(p.items[i]).toBeDefined()
        }
      }
    }
  })
})
