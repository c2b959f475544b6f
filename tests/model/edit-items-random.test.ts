/** Any run of edits leaves a project that reads as a sound file, in every variant; fixed seeds. */
import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import {
  addPart,
  addWire,
  duplicateItem,
  removeItem,
  removeWire,
  renameItem,
  renameWire,
  setItem,
  setWire,
} from '../../src/model/edit-items.ts'
import { type Project, readProject, variantsOf, writeProject } from '../../src/model/index.ts'
import fc from '../seeded.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const library = loadLibrary()
const demos = ['greenhouse-scout', 'duct-inspector', 'shelf-reader', 'hedge-patrol'].map((name): Project => {
  const read = readProject(readFileSync(`demo-data/${name}.json`), name, library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
})
const parts = [...library.keys()]

const pick = <T>(all: readonly T[], n: number): T | undefined => all[n % Math.max(all.length, 1)]

/** One edit; numbers pick what it is done to, so that it means something in any project. */
function edited(project: Project, [kind, a, b]: readonly [number, number, number]): Project {
  const variant = pick(variantsOf(project), b)?.id ?? 'base'
  const item = pick(project.items, a)?.id
  const wire = pick(project.wires ?? [], a)?.id
  const other = pick(project.items, b)?.id
  switch (kind) {
    case 0:
      return addPart(project, pick(parts, a)!).project
    case 1:
      return item === undefined ? project : duplicateItem(project, item).project
    case 2:
      return item === undefined ? project : removeItem(project, item).project
    case 3:
      return item === undefined ? project : renameItem(project, item, `name-${b}-${project.items.length}-${a}`)
    case 4:
      return item === undefined
        ? project
        : setItem(project, variant, item, { required: b % 2 === 0, stack: b % 7, turns: [(b % 4) as 0 | 1 | 2 | 3] })
    case 5:
      return item === undefined || other === undefined || item === other
        ? project
        : setItem(project, variant, item, {
            place: [
              { kind: 'near', item: other, within: b % 90 },
              { kind: 'beyond', item: other, side: 'left' },
            ],
          })
    case 6: {
      const ends = project.items.flatMap((i) =>
        (library.get(i.footprint)?.terminals ?? []).map((t) => ({ item: i.id, terminal: t.id })),
      )
      const [from, to] = [pick(ends, a), pick(ends, b)]
      return from && to ? addWire(project, from, to).project : project
    }
    case 7:
      return wire === undefined ? project : removeWire(project, wire)
    case 8:
      return wire === undefined ? project : renameWire(project, wire, `wire-${b}-${(project.wires ?? []).length}-${a}`)
    default:
      return wire === undefined ? project : setWire(project, variant, wire, { maxLength: b, loop: a % 40 })
  }
}

it('leaves a sound file after any run of edits', () => {
  const edit = fc.tuple(fc.integer({ min: 0, max: 9 }), fc.nat(200), fc.nat(200))
  fc.assert(
    fc.property(fc.nat(3), fc.array(edit, { minLength: 1, maxLength: 14 }), (demo, edits) => {
      const before = JSON.stringify(demos[demo])
      const last = edits.reduce(edited, demos[demo]!)
      const read = readProject(writeProject(last), 'edited.json', library)
      expect(read.ok ? [] : read.problems).toEqual([])
      // What was edited is another project; the one before is as it was.
      expect(JSON.stringify(demos[demo])).toBe(before)
    }),
    { numRuns: LONG ? 2000 : 60 },
  )
})
