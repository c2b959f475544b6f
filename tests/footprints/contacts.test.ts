/** Contacts at one place, against every pair of points. */
import { describe, expect, it } from 'vitest'
import { twice } from '../../footprints/contacts.ts'
import { readFootprintValue } from '../../footprints/schema.ts'
import fc from '../seeded.ts'

const block = (x: number, y: number, columns: number, rows: number) => ({ at: [x, y] as const, columns, rows })

const board = (blocks: readonly object[]) => ({
  id: 'board',
  body: { width: 40, depth: 30, height: 8 },
  mount: { kind: 'adhesive' },
  breadboard: { blocks: blocks.map((b) => ({ ...b, strip: 'column' })) },
})

describe('contacts at one place', () => {
  it('are told, and taken', () => {
    const r = readFootprintValue({ ...board([block(1, 1, 3, 5), block(1, 11.16, 3, 5)]), source: 'invented' }, 'b.json')
    expect(r.ok).toBe(true)
    expect(r.warnings.map((w) => `${w.path}: ${w.expected}`)).toEqual([
      'breadboard.blocks: each contact once, more than 0.02 mm from any other: where some are nearer, a pin is on the first of them',
    ])
  })

  it('are not found where blocks stand apart, or in one another’s gaps', () => {
    for (const there of [block(1, 13.7, 3, 5), block(2.27, 2.27, 3, 5), block(8.62, 1, 3, 5)])
      expect(
        readFootprintValue({ ...board([block(1, 1, 3, 5), there]), source: 'invented' }, 'b.json').warnings,
      ).toEqual([])
  })

  it('leave a block that is wrong to its own problem', () => {
    const r = readFootprintValue(board([block(1, 1, 3, 5), { at: 'here', columns: 3 }]), 'b.json')
    expect(r.ok || r.problems.map((p) => p.path)).toEqual(['breadboard.blocks[1].at', 'breadboard.blocks[1].rows'])
  })

  it('are those that the distance of every pair shows', () => {
    const few = fc.record({
      at: fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 20 })),
      columns: fc.integer({ min: 1, max: 4 }),
      rows: fc.integer({ min: 1, max: 4 }),
    })
    let some = 0
    fc.assert(
      fc.property(fc.array(few, { maxLength: 4 }), fc.constantFrom(0.02, 0.05, 0.1, 0.3), (drawn, pitch) => {
        // hundredths of a millimetre, off the limit by a half
        const blocks = drawn.map((b) => ({ ...b, at: [b.at[0] * 0.03, b.at[1] * 0.03] as const }))
        const points = blocks.flatMap(({ at, columns, rows }) =>
          Array.from(
            { length: columns * rows },
            (_, k) => [at[0] + (k % columns) * pitch, at[1] + Math.floor(k / columns) * pitch] as const,
          ),
        )
        const met = points.some(([x, y], i) =>
          points.slice(0, i).some((q) => Math.hypot(q[0] - x, q[1] - y) <= 0.02 + 1e-9),
        )
        if (met && pitch > 0.02) some++
        expect(twice(blocks, pitch)).toBe(met)
      }),
      { numRuns: 500 },
    )
    expect(some).toBeGreaterThan(10)
  })
})
