/** Old versions become the present one step by step; newer ones and other kinds are refused with a reason. */
import { describe, expect, it } from 'vitest'
import { migrate, type Steps } from '../../src/model/migrate.ts'

/** Steps as a later version might have them: version 2 calls `width` and `depth` a size, version 3 counts in micrometres. */
const steps: Steps = {
  'deckwright-project': [
    ({ width, depth, ...rest }) => ({ ...rest, version: 2, size: [width, depth] }),
    (document) => ({ ...document, version: 3, size: (document.size as number[]).map((mm) => mm * 1000) }),
  ],
  'deckwright-layout': [],
  'deckwright-footprint': [],
  'deckwright-measures': [],
}
const old = Object.freeze({ format: 'deckwright-project', version: 1, width: 160, depth: 120, name: 'Mole' })

describe('a file of an older version', () => {
  it('goes through all steps from its own version on, and is not changed itself', () => {
    const now = { format: 'deckwright-project', version: 3, name: 'Mole', size: [160_000, 120_000] }
    expect(migrate(old, 'deckwright-project', steps)).toEqual({ document: now })
    const second = { format: 'deckwright-project', version: 2, name: 'Mole', size: [160, 120] }
    expect(migrate(second, 'deckwright-project', steps)).toEqual({ document: now })
    expect(migrate(now, 'deckwright-project', steps)).toEqual({ document: now })
    expect(old.width).toBe(160)
  })

  it('of another kind has steps of its own', () => {
    const layout = { format: 'deckwright-layout', version: 1, placements: [] }
    expect(migrate(layout, 'deckwright-layout', steps)).toEqual({ document: layout })
  })
})

describe('a file is refused', () => {
  it('with the reason where it is of a newer version', () => {
    const refused = migrate({ ...old, version: 4 }, 'deckwright-project', steps)
    expect(refused).toMatchObject({ refused: { path: ['version'], found: '4' } })
    expect(refused).toMatchObject({ refused: { expected: expect.stringMatching(/^at most 3: .*newer version/) } })
    expect(migrate({ ...old, version: 2 }, 'deckwright-project')).toMatchObject({
      refused: { expected: expect.stringMatching(/^at most 1: /) },
    })
  })

  it('where it is another kind of file', () => {
    expect(migrate(old, 'deckwright-layout', steps)).toMatchObject({ refused: { path: ['format'] } })
  })

  it.each([0, -1, 1.5, '1', undefined])('by its schema, and not moved, with version %s', (version) => {
    const document = { ...old, version }
    expect(migrate(document, 'deckwright-project', steps)).toEqual({ document })
  })
})
