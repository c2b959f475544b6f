import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import {
  addPart,
  addWire,
  bodiesOf,
  duplicateItem,
  ownFields,
  removeItem,
  removeWire,
  renameItem,
  renameWire,
  setItem,
  setWire,
} from '../../src/model/edit-items.ts'
import { applyVariant, type Project, readProject, variantsOf, writeProject } from '../../src/model/index.ts'

const library = loadLibrary()
const demo = (name: string): Project => {
  const read = readProject(readFileSync(`demo-data/${name}.json`), name, library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const demos = ['greenhouse-scout', 'duct-inspector', 'shelf-reader']
const sound = (project: Project): void => {
  const read = readProject(writeProject(project), 'edited.json', library)
  expect(read.ok ? [] : read.problems).toEqual([])
}

/** Two bricks, one of them three times, and everything that can name an item. */
const small: Project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Moss minder',
  decks: [
    { id: 'low', z: 40, thickness: 3, outline: { rect: [0, 0, 200, 160] } },
    { id: 'top', z: 90, thickness: 3, outline: { rect: [0, 0, 200, 160] } },
  ],
  exits: [{ id: 'left', deck: 'low', at: [5, 5] }],
  items: [
    { id: 'base', footprint: 'breadboard-400', place: [{ kind: 'edge', edge: 'front', within: 8 }] },
    { id: 'cells', footprint: 'cells-4-aa', count: 2 },
    {
      id: 'eye',
      footprint: 'sensor-ultrasonic',
      place: [
        { kind: 'near', item: 'cells#2', within: 90 },
        { kind: 'beyond', item: 'base', side: 'left' },
      ],
    },
    { id: 'drive', footprint: 'driver-2x6', place: [{ kind: 'host', item: 'base' }] },
  ],
  wires: [
    { id: 'feed', from: { item: 'cells#1', terminal: 'plus' }, to: { item: 'eye', terminal: '5v' }, supply: 'cells' },
    { id: 'lead', from: { exit: 'left' }, to: { item: 'eye', terminal: 'gnd' }, supply: 'cells' },
  ],
  variants: [
    { id: 'a', items: { eye: { place: [{ kind: 'near', item: 'base', within: 50 }] } } },
    { id: 'b', omit: ['cells'], wires: { lead: { maxLength: 100 } } },
  ],
} as Project

describe('fields of an item', () => {
  it('go into the base, and defaults are left out again', () => {
    const one = setItem(small, 'a', 'drive', { required: false, value: 3, stack: 12, turns: [0, 2] })
    expect(one.items[3]).toMatchObject({ id: 'drive', required: false, value: 3, stack: 12, turns: [0, 2] })
    const back = setItem(one, 'a', 'drive', { required: true, value: 1, stack: 0, turns: [0, 1, 2, 3] })
    expect(back).toEqual(small)
  })

  it('go into the variant that has its own value, and into no other', () => {
    expect(ownFields(small, 'a', 'items', 'eye')).toEqual(['place'])
    const next = setItem(small, 'a', 'eye', { place: [], stack: 4 })
    expect(next.variants?.[0]?.items?.eye).toEqual({ place: [] })
    expect(next.items[2]).toEqual({ ...small.items[2], stack: 4 })
    expect(applyVariant(next, 'a').items.find((i) => i.id === 'eye')?.place).toEqual([])
    expect(applyVariant(next, 'b').items.find((i) => i.id === 'eye')?.place).toHaveLength(2)
    // seen from the other variant the base is meant
    const other = setItem(small, 'b', 'eye', { place: [] })
    expect(other.variants).toBe(small.variants)
    expect(other.items[2]?.place).toBeUndefined()
  })

  it('takes all decks for any deck', () => {
    const low = setItem(small, 'a', 'base', { decks: ['low'] })
    expect(low.items[0]?.decks).toEqual(['low'])
    expect(setItem(low, 'a', 'base', { decks: ['top', 'low'] })).toEqual(small)
  })
})

describe('adding and copying', () => {
  it('finds a free id', () => {
    const one = addPart(small, 'buzzer-plug-in')
    const two = addPart(one.project, 'buzzer-plug-in')
    expect([one.id, two.id]).toEqual(['buzzer-plug-in', 'buzzer-plug-in-2'])
    sound(two.project)
  })

  it('copies an item with what variants say of it, but not its fixed place', () => {
    const fixed = setItem(small, 'b', 'base', { place: [{ kind: 'at', deck: 'low', at: [1, 2] }] })
    expect(duplicateItem(fixed, 'base').project.items[1]).toEqual({
      id: 'base-2',
      footprint: 'breadboard-400',
      place: [],
    })
    const { project, id } = duplicateItem(small, 'eye')
    expect(id).toBe('eye-2')
    expect(project.items.map((i) => i.id)).toEqual(['base', 'cells', 'eye', 'eye-2', 'drive'])
    expect(duplicateItem(project, 'eye-2').id).toBe('eye-3')
    const board = addPart(small, 'breadboard-400')
    expect(duplicateItem(board.project, board.id).id).toBe('breadboard-400-2')
    expect(project.variants?.[0]?.items?.['eye-2']).toEqual(small.variants?.[0]?.items?.eye)
    expect(duplicateItem(small, 'cells').project.variants?.[1]?.omit).toEqual(['cells', 'cells-2'])
  })

  it('knows the bodies of a count', () => {
    expect(bodiesOf('base', 1)).toEqual(['base'])
    expect(bodiesOf('base', 3)).toEqual(['base#1', 'base#2', 'base#3'])
  })
})

describe('removing', () => {
  it('takes along whatever names the item, and tells it', () => {
    const { project, gone } = removeItem(small, 'cells')
    expect(project.items.map((i) => i.id)).toEqual(['base', 'eye', 'drive'])
    expect(project.items[1]?.place).toEqual([{ kind: 'beyond', item: 'base', side: 'left' }])
    expect(project.wires).toEqual([{ id: 'lead', from: { exit: 'left' }, to: { item: 'eye', terminal: 'gnd' } }])
    expect(project.variants?.[1]?.omit).toEqual([])
    expect(gone).toEqual([
      { kind: 'place', item: 'eye', place: { kind: 'near', item: 'cells#2', within: 90 } },
      { kind: 'wire', wire: 'feed' },
      { kind: 'supply', wire: 'lead' },
    ])
  })

  it('looks into variants too', () => {
    const { project, gone } = removeItem(small, 'base')
    expect(gone).toContainEqual({
      kind: 'place',
      item: 'eye',
      place: { kind: 'near', item: 'base', within: 50 },
      variant: 'a',
    })
    expect(project.variants?.[0]?.items?.eye?.place).toEqual([])
    expect(removeItem(small, 'eye').project.variants?.[0]?.items).toEqual({})
    expect(removeItem(small, 'eye').project.variants?.[1]?.wires).toEqual({})
  })

  it('leaves every demo sound, whichever item goes', () => {
    for (const name of demos) {
      const project = demo(name)
      for (const { id } of project.items) sound(removeItem(project, id).project)
    }
  })
})

describe('renaming', () => {
  it('renames all that names the item, so that back again is the same', () => {
    const next = renameItem(small, 'cells', 'pack')
    expect(JSON.stringify(next)).not.toMatch(/"cells(#|")/)
    expect(next.items[2]?.place?.[0]).toEqual({ kind: 'near', item: 'pack#2', within: 90 })
    expect(next.wires?.[0]).toMatchObject({ from: { item: 'pack#1' }, supply: 'pack' })
    expect(renameItem(next, 'pack', 'cells')).toEqual(small)
    for (const name of demos) {
      const project = demo(name)
      for (const { id } of project.items) {
        const renamed = renameItem(project, id, 'another-name')
        sound(renamed)
        expect(renameItem(renamed, 'another-name', id)).toEqual(project)
      }
    }
  })
})

describe('wires', () => {
  it('are added, set, renamed and removed, in variants too', () => {
    const added = addWire(small, { exit: 'left' }, { item: 'eye', terminal: 'echo' })
    expect(added.id).toBe(`wire-${(small.wires ?? []).length + 1}`)
    sound(setWire(added.project, 'a', added.id, { maxLength: 80, loop: 10 }))
    const own = setWire(small, 'b', 'lead', { maxLength: 70, loop: 5 })
    expect(own.variants?.[1]?.wires?.lead).toEqual({ maxLength: 70 })
    expect(own.wires?.[1]?.loop).toBe(5)
    expect(setWire(own, 'a', 'lead', { loop: undefined } as never).wires).toEqual(small.wires)
    const renamed = renameWire(small, 'lead', 'line')
    expect(renamed.variants?.[1]?.wires).toEqual({ line: { maxLength: 100 } })
    expect(removeWire(renamed, 'line').variants?.[1]?.wires).toEqual({})
  })
})

it('has variants to test with', () => expect(variantsOf(small).map((v) => v.id)).toEqual(['a', 'b']))
