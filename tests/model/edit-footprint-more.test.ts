import { describe, expect, it } from 'vitest'
import { shapeToSolver } from '../../footprints/fields.ts'
import { loadLibrary } from '../../footprints/load.ts'
import { bounds, prepare } from '../../solver/index.ts'
import { footprintProblems } from '../../src/model/edit-footprint.ts'
import { FORMS, formOf, joinedText, readJoined, shapeAs, withoutBlock } from '../../src/model/edit-footprint-more.ts'

describe('a room in another form', () => {
  it('lies where it lay, and is sound', () => {
    const rect = { rect: [-5, 2, 30, 12] as [number, number, number, number] }
    const box = bounds(prepare(shapeToSolver(rect)))
    expect(bounds(prepare(shapeToSolver(shapeAs(rect, 'polygon'))))).toEqual(box)
    expect(shapeAs(rect, 'circle')).toEqual({ circle: [10, 8, 6] })
    expect(shapeAs(rect, 'sector')).toEqual({ sector: [10, 2, 12, 45, 135] })
    expect(shapeAs(rect, 'rect')).toBe(rect)
    const part = loadLibrary().get('controller-four-hole')!
    for (const a of FORMS)
      for (const b of FORMS) {
        const shape = shapeAs(shapeAs(rect, a), b)
        expect(formOf(shape)).toBe(b)
        expect(footprintProblems({ ...part, corridors: [{ id: 'r', shape, z: [0, 5] }] })).toEqual([])
      }
  })
})

describe('rows that are one conductor', () => {
  it('are typed as people count, and read back', () => {
    expect(
      joinedText([
        [2, 3],
        [4, 5, 6],
      ]),
    ).toBe('3 and 4; 5 and 6 and 7')
    expect(readJoined('3 and 4; 5 + 6, 7', 7)).toEqual([
      [2, 3],
      [4, 5, 6],
    ])
    expect(readJoined('', 7)).toEqual([])
    for (const wrong of ['3', '3 and 8', '0 and 1', '1 and 1', '1 and 2; 2 and 3', 'red'])
      expect(readJoined(wrong, 7), wrong).toBeUndefined()
  })

  it('keep together when a block goes', () => {
    const block = (x: number) => ({ at: [x, 0] as [number, number], columns: 5, rows: 1, strip: 'row' as const })
    const contacts = {
      blocks: [0, 1, 2, 3, 4].map(block),
      joined: [
        [0, 1],
        [2, 3, 4],
      ],
    }
    expect(withoutBlock(contacts, 1)).toEqual({ blocks: [0, 2, 3, 4].map(block), joined: [[1, 2, 3]] })
    expect(withoutBlock({ blocks: [block(0), block(1)], joined: [[0, 1]] }, 0)).toEqual({ blocks: [block(1)] })
  })
})
