import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { room, rules, sources } from './arrows.ts'

const root = join(import.meta.dirname, '../..')
const fixtures = join(root, 'tests/fixtures/arrows')

/** For each rule a bad file in tests/fixtures/arrows/<rule>/, and what it is caught with. */
const bad: Record<string, { file: string; found: string[] }> = {
  'solver-imports-nothing': { file: 'solver/search/graph.ts', found: ['zod', 'javascript-lp-solver'] },
  'arrows-one-way': { file: 'src/export/card.ts', found: ['../panels/card.tsx', '../store/document.ts'] },
  'three-only-in-scene': { file: 'src/plan/plan.tsx', found: ['three', '@react-three/fiber'] },
  'store-without-react': { file: 'src/store/document.ts', found: ['react', 'zustand'] },
  'cli-without-dom': { file: 'src/cli/show.ts', found: ['react-dom/client', '  document.'] },
  'check-shares-no-propagation': { file: 'solver/check/check.ts', found: ['../rules/r1.ts'] },
  'node-only-at-the-edge': { file: 'src/model/read.ts', found: ['node:fs'] },
  'whole-endings': { file: 'src/model/read.ts', found: ['./schema'] },
  'no-work-at-import': { file: 'src/model/read.ts', found: ["register('reader')"] },
  'no-file-over-400-lines': { file: 'src/model/long.ts', found: ['401 lines'] },
}

describe('the arrows of the house', () => {
  const house = sources(root)

  it('looks at every room and at many imports', () => {
    const rooms = new Set(house.map((s) => room(s.file)))
    for (const name of ['solver', 'footprints', 'src', 'src/export', 'src/cli', 'tests']) expect(rooms).toContain(name)
    expect(house.reduce((sum, s) => sum + s.imports.length, 0)).toBeGreaterThan(50)
  })

  for (const rule of rules) {
    it(`${rule.name}: holds in the house`, () => {
      const broken = house.flatMap((s) => rule.broken(s).map((what) => `${s.file}: ${what.trim()}`))
      expect(broken, rule.message).toEqual([])
    })

    it(`${rule.name}: catches a bad file`, () => {
      const sample = bad[rule.name]!
      const found = sources(join(fixtures, rule.name)).filter((s) => rule.broken(s).length > 0)
      expect(found.map((s) => s.file)).toEqual([sample.file])
      expect(rule.broken(found[0]!)).toEqual(sample.found)
    })
  }
})
