/** Edits of variants: each makes a sound file, says what differs, and is unmade without a trace. */
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  copyVariant,
  differencesOf,
  goalMoved,
  goalsOf,
  markedOf,
  noteOf,
  removeVariant,
  renameVariant,
  roomsOf,
  setFields,
  setOut,
  setSetting,
  setWireOut,
  USUAL_GOALS,
  withGoals,
  withMarked,
  withNote,
  withoutDifference,
  withRoom,
} from '../../src/model/edit-variants.ts'
import { applyVariant, type Project, readProject, variantsOf, writeProject } from '../../src/model/index.ts'
import { full, none, read, small } from './full-project.ts'

const ids = (p: Project): string[] => variantsOf(p).map((v) => v.id)
/** The same project, read from its text: what is no sound file is an error here. */
const sound = (p: Project): Project => {
  const result = readProject(writeProject(p), 'edited.json', none)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value
}
/** What a variant asks; a list that is empty asks as little as one that is missing. */
const asks = (p: Project, id: string): unknown => {
  const { name: _, ...rest } = applyVariant(p, id)
  return Object.fromEntries(
    Object.entries(rest).filter(([, v]) => typeof v !== 'object' || Object.keys(v ?? {}).length > 0),
  )
}

describe('variants of a project', () => {
  it('are copied with all that differs, behind the one they come from, under an id of their own', () => {
    const p = read(full())
    const once = copyVariant(p, 'plain')
    expect(once.id).toBe('plain-2')
    expect(ids(once.project)).toEqual(['plain', 'plain-2', 'light'])
    const twice = copyVariant(sound(once.project), 'plain-2')
    expect(ids(twice.project)).toEqual(['plain', 'plain-2', 'plain-3', 'light'])
    const light = sound(copyVariant(p, 'light').project)
    expect(asks(light, 'light-2')).toEqual(asks(p, 'light'))
    expect(() => copyVariant(p, 'none')).toThrow(RangeError)
  })

  it('are written down where a project has none yet', () => {
    const { project, id } = copyVariant(read(small()), 'base')
    expect(ids(sound(project))).toEqual(['base', id])
    expect(asks(project, id)).toEqual(asks(small(), 'base'))
  })

  it('take a name, lose it again, and go with their note and mark, but for the last', () => {
    const p = read(full())
    const named = sound(renameVariant(p, 'plain', '  as it is '))
    expect(variantsOf(named)[0]).toEqual({ id: 'plain', name: 'as it is' })
    expect(renameVariant(named, 'plain', '')).toEqual(p)
    const noted = sound(withMarked(withNote(p, 'light', ' looks better '), 'light'))
    expect([noteOf(noted, 'light'), markedOf(noted)]).toEqual(['looks better', 'light'])
    expect([noteOf(noted, 'plain'), noteOf(noted, 'toString'), markedOf(p)]).toEqual(['', '', 'plain'])
    const gone = removeVariant(noted, 'light')
    expect(ids(sound(gone))).toEqual(['plain'])
    expect(Object.hasOwn(gone, 'page')).toBe(false)
    expect(removeVariant(gone, 'plain')).toBe(gone)
    expect(withNote(noted, 'light', '')).toEqual(withMarked(p, 'light'))
  })

  it('pass over a page that another program wrote there', () => {
    for (const page of [5, null, [], { notes: 3, marked: {} }, { notes: { light: 7 } }]) {
      const p = { ...read(full()), page } as unknown as Project
      expect([noteOf(p, 'light'), markedOf(p)]).toEqual(['', 'plain'])
      expect(noteOf(sound(withNote(p, 'light', 'yes')), 'light')).toBe('yes')
    }
  })
})

describe('what differs in a variant', () => {
  it('is listed whole, and each taken back leaves what all ask', () => {
    const p = read(full())
    let now = p
    for (const d of differencesOf(p, 'light')) {
      const next = withoutDifference(now, 'light', d)
      expect(differencesOf(next, 'light').length).toBe(differencesOf(now, 'light').length - 1)
      now = next
    }
    expect(differencesOf(p, 'light').length).toBeGreaterThan(4)
    const { variants: _, ...base } = p
    expect(asks(sound(now), 'light')).toEqual(asks(base, 'base'))
    expect(now.variants!.find((v) => v.id === 'light')).toEqual({ id: 'light', name: 'without the top' })
  })

  it('here leaves the others and the project alone; for all, no variant has its own any more', () => {
    const p = read(full())
    const here = sound(setFields(p, 'plain', 'items', 'brain', { stack: 12 }, 'here'))
    expect(applyVariant(here, 'plain').items[0]!.stack).toBe(12)
    expect(asks(here, 'light')).toEqual(asks(p, 'light'))
    expect(here.items).toEqual(p.items)
    const all = sound(setFields(here, 'plain', 'items', 'brain', { stack: 7 }, 'all'))
    for (const id of ids(all)) expect(applyVariant(all, id).items[0]!.stack).toBe(7)
    // The same as all have is no difference.
    expect(setFields(here, 'plain', 'items', 'brain', { stack: p.items[0]!.stack }, 'here')).toEqual(p)
  })

  it('settings, wires and what is left out go both ways', () => {
    const p = read(full())
    const web = setSetting(p, 'plain', 'minWeb', 4, 'here')
    expect(applyVariant(sound(web), 'plain').settings!.minWeb).toBe(4)
    expect(applyVariant(web, 'light').settings).toEqual(applyVariant(p, 'light').settings)
    const all = sound(setSetting(web, 'plain', 'minWeb', 5, 'all'))
    for (const id of ids(all)) expect(applyVariant(all, id).settings!.minWeb).toBe(5)
    const wire = p.wires![0]!.id
    const cut = setWireOut(p, 'plain', wire, true, 'here')
    expect(applyVariant(sound(cut), 'plain').wires!.map((w) => w.id)).not.toContain(wire)
    expect(setWireOut(cut, 'plain', wire, false, 'here')).toEqual(p)
    const out = setOut(p, 'plain', 'omit', 'arm', true, 'all')
    for (const id of ids(sound(out))) expect(applyVariant(out, id).items.map((i) => i.id)).not.toContain('arm')
    expect(setOut(setOut(p, 'plain', 'omit', 'arm', true, 'here'), 'plain', 'omit', 'arm', false, 'here')).toEqual(p)
  })

  it('any of it made here and taken back gives the file as it was', () => {
    const p = read(full())
    const step = fc.record({
      entry: fc.constantFrom(...p.items.map((i) => i.id)),
      stack: fc.integer({ min: 0, max: 50 }),
      zone: fc.constantFrom(...p.zones!.map((z) => z.id)),
      which: fc.constantFrom('stack', 'omit', 'release', 'web'),
    })
    fc.assert(
      fc.property(fc.array(step, { maxLength: 6 }), (steps) => {
        let now = p
        for (const s of steps) {
          if (s.which === 'stack') now = setFields(now, 'plain', 'items', s.entry, { stack: s.stack }, 'here')
          if (s.which === 'omit') now = setOut(now, 'plain', 'omit', s.entry, true, 'here')
          if (s.which === 'release') now = setOut(now, 'plain', 'release', s.zone, true, 'here')
          if (s.which === 'web') now = setSetting(now, 'plain', 'minWeb', s.stack, 'here')
        }
        for (const d of differencesOf(now, 'plain')) now = withoutDifference(now, 'plain', d)
        expect(now).toEqual({ ...p, variants: p.variants!.map((v) => ({ ...v })) })
      }),
      { numRuns: 60 },
    )
  })
})

describe('room for later', () => {
  it('is kept or released in one variant', () => {
    const p = read({
      ...full(),
      zones: [...(full().zones ?? []), { id: 'future', kind: 'reserved', deck: 'main', shape: { rect: [0, 0, 5, 5] } }],
    } as unknown as Project)
    const rooms = roomsOf(p, 'plain')
    expect(rooms.map((r) => [r.kind, r.id, r.kept])).toContainEqual(['zone', 'future', true])
    expect(rooms.map((r) => [r.kind, r.id, r.kept])).toContainEqual(['item', 'arm', true])
    for (const room of rooms) {
      const released = sound(withRoom(p, 'plain', room, false))
      expect(roomsOf(released, 'plain').find((r) => r.id === room.id)!.kept).toBe(false)
      expect(roomsOf(released, 'light')).toEqual(roomsOf(p, 'light'))
      expect(withRoom(released, 'plain', room, true)).toEqual(withRoom(p, 'plain', room, true))
    }
  })
})

describe('the order of what matters', () => {
  it('is moved, left out and counted again', () => {
    const p = small()
    expect(goalsOf(p)).toEqual(USUAL_GOALS)
    const first = goalMoved(USUAL_GOALS, 'wire-length', 0)
    expect(first).toEqual(['wire-length', 'free-tie-points', 'optional-value', 'balance'])
    const changed = sound(withGoals(p, first))
    expect(goalsOf(changed)).toEqual(first)
    expect(goalMoved(first, 'wire-length', 2)).toEqual(USUAL_GOALS)
    expect(goalMoved(first, 'wire-length', 99).at(-1)).toBe('wire-length')
    expect(withGoals(changed, USUAL_GOALS)).toEqual(sound(p))
    expect(goalsOf(sound(withGoals(p, ['balance', 'new-holes'])))).toEqual(['balance', 'new-holes'])
  })
})
