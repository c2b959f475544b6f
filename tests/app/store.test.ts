import { describe, expect, it } from 'vitest'
import { mm, type Placement, solve, um } from '../../solver/index.ts'
import { placementOf, samePlace } from '../../src/store/moves.ts'
import { shown } from '../../src/store/store.ts'
import { findingsOf, progressOf, viewOf } from '../../src/store/view.ts'
import { legal, reply, solvedSample, text } from './store-sample.ts'

type Sample = Awaited<ReturnType<typeof solvedSample>>
const sheetOf = ({ store }: Sample) => store.getState().history.doc.sheets[store.getState().active]!
const at = (sample: Sample, id: string): Placement => {
  const sheet = sheetOf(sample)
  const index = sheet.problem.items.findIndex((i) => i.id === id)
  return placementOf(shown(sample.store.getState(), sheet), index)!
}
const steps = ({ store }: Sample): number => store.getState().history.past.length

/** Lifts, carries through a few places, and drops at that corner in mm. */
function drag(sample: Sample, id: string, x: number, y: number): void {
  const from = at(sample, id)
  sample.actions.lift(id, 'pointer')
  for (const part of [0.2, 0.7, 1]) {
    const px = um(Math.round(from.at.x + (mm(x) - from.at.x) * part))
    const py = um(Math.round(from.at.y + (mm(y) - from.at.y) * part))
    sample.actions.carryTo({ ...from, at: { x: px, y: py } })
  }
  sample.actions.drop()
}

/** A corner on the grid where `id` fits while all the others stay. */
function roomFor(sample: Sample, id: string): { x: number; y: number } {
  const sheet = sheetOf(sample)
  const from = at(sample, id)
  const rest = shown(sample.store.getState(), sheet).filter((p) => p.item !== from.item)
  for (let y = 0; y <= 50; y++)
    for (let x = 0; x <= 80; x++) {
      const there = { ...from, at: { x: mm(x), y: mm(y) } }
      if (!samePlace(there, from) && legal(sheet.problem, [...rest, there])) return { x, y }
    }
  throw new Error('the sample has no room')
}

describe('a drag', () => {
  it('holds the item where it is dropped, as one step, and asks for the nearest layout', async () => {
    const sample = await solvedSample()
    const before = sample.asked.length
    const room = roomFor(sample, 'one')
    drag(sample, 'one', room.x, room.y)
    expect(steps(sample)).toBe(1)
    expect(sheetOf(sample).holds).toEqual(['one'])
    expect(at(sample, 'one').at).toEqual({ x: mm(room.x), y: mm(room.y) })
    expect(sample.asked.length).toBe(before + 1)
    const ask = sample.asked.at(-1)!
    expect(ask.urgent).toBe(true)
    expect(ask.options.keep).toBe(true)
    expect(ask.options.pins).toEqual([
      { item: 0, deck: 0, at: { x: mm(room.x), y: mm(room.y) }, turn: at(sample, 'one').turn },
    ])
    expect(ask.options.hint?.length).toBe(4)
  })

  it('leaves the others where they stand when there is room', async () => {
    const sample = await solvedSample()
    const others = ['two', 'board', 'peg'].map((id) => at(sample, id))
    const room = roomFor(sample, 'one')
    drag(sample, 'one', room.x, room.y)
    await reply(sample.asked.at(-1)!)
    expect(['two', 'board', 'peg'].map((id) => at(sample, id))).toEqual(others)
    expect(viewOf(sample.store.getState(), 0)?.notes).toContain('Everything else stayed where it was.')
    expect(steps(sample)).toBe(1)
  })

  it('makes the others move when it must, to a legal layout with the item where it was put', async () => {
    const sample = await solvedSample()
    const two = at(sample, 'two')
    drag(sample, 'one', two.at.x / 1000, two.at.y / 1000)
    expect(findingsOf(sheetOf(sample).problem, shown(sample.store.getState(), sheetOf(sample))).length).toBeGreaterThan(
      0,
    )
    await reply(sample.asked.at(-1)!)
    const sheet = sheetOf(sample)
    expect(legal(sheet.problem, shown(sample.store.getState(), sheet))).toBe(true)
    expect(at(sample, 'one').at).toEqual(two.at)
    expect(at(sample, 'two').at).not.toEqual(two.at)
    expect(viewOf(sample.store.getState(), 0)?.notes.join(' ')).toMatch(/^To make room, .*two moved [\d.]+ mm/)
  })

  it('is no step when it ends where it began, nor when it is taken back', async () => {
    const sample = await solvedSample()
    const before = sample.store.getState().history
    const from = at(sample, 'one')
    drag(sample, 'one', from.at.x / 1000, from.at.y / 1000)
    sample.actions.lift('one', 'pointer')
    sample.actions.carryTo({ ...from, at: { x: mm(40), y: mm(30) } })
    sample.actions.takeBack()
    expect(sample.store.getState().history).toBe(before)
    expect(at(sample, 'one')).toEqual(from)
    expect(sample.asked.every((a) => !a.urgent)).toBe(true)
  })

  it('takes what is plugged into a board along, and keeps a plug-in part on the contacts', async () => {
    const sample = await solvedSample()
    const peg = at(sample, 'peg')
    const board = at(sample, 'board')
    sample.actions.lift('board', 'pointer')
    sample.actions.carryTo({ ...board, at: { x: um(board.at.x + 3000), y: um(board.at.y + 2000) } })
    const { carry } = sample.store.getState()
    const pegNow = placementOf(carry!.placements, peg.item)!
    expect([pegNow.at.x - peg.at.x, pegNow.at.y - peg.at.y]).toEqual([3000, 2000])
    sample.actions.takeBack()
    sample.actions.lift('peg', 'pointer')
    sample.actions.carryTo({ ...peg, at: { x: um(peg.at.x + 2000), y: peg.at.y } })
    const slid = placementOf(sample.store.getState().carry!.placements, peg.item)!
    expect(slid.at.x - peg.at.x === 2540 || slid.at.x === peg.at.x).toBe(true)
    expect(slid.host).toBe(board.item)
  })
})

describe('what nothing fits with', () => {
  it('stays as it was put, says why in a sentence, and can be freed again', async () => {
    const sample = await solvedSample()
    drag(sample, 'one', -8, 5)
    await reply(sample.asked.at(-1)!)
    const view = viewOf(sample.store.getState(), 0)!
    expect(at(sample, 'one').at.x).toBe(mm(-8))
    expect(view.stuck).toBe(true)
    expect(view.verdict).toMatch(/^Cannot fit with one held there, because .*\.$/)
    expect(`${view.verdict} ${view.notes.join(' ')}`).not.toMatch(/\bR\d+\b|infeasible|feasible|optimal|unknown/)
    sample.actions.free('one')
    expect(sheetOf(sample).holds).toEqual([])
    const again = sample.asked.at(-1)!
    expect(again.options.pins).toEqual([])
    await reply(again)
    expect(legal(sheetOf(sample).problem, shown(sample.store.getState(), sheetOf(sample)))).toBe(true)
  })
})

describe('holding and freeing', () => {
  it('is a step each, moves nothing, and frees all at once', async () => {
    const sample = await solvedSample()
    const before = shown(sample.store.getState(), sheetOf(sample))
    sample.actions.hold('one')
    sample.actions.hold('two')
    sample.actions.hold('two')
    expect(sheetOf(sample).holds).toEqual(['one', 'two'])
    expect(steps(sample)).toBe(2)
    sample.actions.free('one')
    expect(sheetOf(sample).holds).toEqual(['two'])
    sample.actions.undo()
    sample.actions.freeAll()
    expect(sheetOf(sample).holds).toEqual([])
    expect(shown(sample.store.getState(), sheetOf(sample))).toEqual(before)
  })

  it('turns about the middle, on the grid, and holds it so', async () => {
    const sample = await solvedSample()
    const before = at(sample, 'one')
    sample.actions.turn('one')
    const after = at(sample, 'one')
    expect(after.turn).toBe((before.turn + 1) % 4)
    const middle = (p: Placement): number[] => {
      const [w, h] = p.turn % 2 ? [10, 20] : [20, 10]
      return [p.at.x / 1000 + w! / 2, p.at.y / 1000 + h! / 2]
    }
    middle(after).forEach((m, i) => {
      expect(Math.abs(m - middle(before)[i]!)).toBeLessThanOrEqual(0.5)
    })
    expect(after.at.x % 1000).toBe(0)
    expect(sheetOf(sample).holds).toEqual(['one'])
  })
})

describe('history', () => {
  it('goes back to the same picture and forward again, and cancels what it no longer asks for', async () => {
    const sample = await solvedSample()
    const first = shown(sample.store.getState(), sheetOf(sample))
    const room = roomFor(sample, 'one')
    drag(sample, 'one', room.x, room.y)
    const running = sample.asked.at(-1)!
    sample.actions.undo()
    expect(running.cancelled).toBe(true)
    expect(shown(sample.store.getState(), sheetOf(sample))).toBe(first)
    expect(sheetOf(sample).holds).toEqual([])
    sample.actions.redo()
    expect(at(sample, 'one').at).toEqual({ x: mm(room.x), y: mm(room.y) })
    expect(sample.asked.at(-1)).not.toBe(running)
    await reply(sample.asked.at(-1)!)
    const solved = shown(sample.store.getState(), sheetOf(sample))
    const count = sample.asked.length
    sample.actions.undo()
    sample.actions.redo()
    expect(shown(sample.store.getState(), sheetOf(sample))).toBe(solved)
    expect(sample.asked.length).toBe(count)
  })

  it('does not let a late answer into a later document', async () => {
    const sample = await solvedSample()
    const room = roomFor(sample, 'one')
    drag(sample, 'one', room.x, room.y)
    const late = sample.asked.at(-1)!
    sample.actions.undo()
    const before = sample.store.getState().history
    await reply(late)
    expect(sample.store.getState().history).toBe(before)
  })

  it('undo while something is carried only takes that back', async () => {
    const sample = await solvedSample()
    sample.actions.hold('two')
    const from = at(sample, 'one')
    sample.actions.lift('one', 'keys')
    sample.actions.nudge(1, 0)
    expect(at(sample, 'one')).toEqual(from)
    sample.actions.undo()
    expect(sample.store.getState().carry).toBeUndefined()
    expect(sheetOf(sample).holds).toEqual(['two'])
  })
})

describe('files', () => {
  it('save and open again give the same holds and the same picture in every variant', async () => {
    const sample = await solvedSample()
    const room = roomFor(sample, 'one')
    drag(sample, 'one', room.x, room.y)
    await reply(sample.asked.at(-1)!)
    const pictures = sample.store.getState().history.doc.sheets.map((s) => shown(sample.store.getState(), s))
    const saved = sample.actions.save()
    expect(saved.file).toBe('moss.json')
    const other = await solvedSample()
    expect(other.actions.open(saved.text, saved.file)).toBe(true)
    expect(other.store.getState().notices).toEqual([])
    const { doc } = other.store.getState().history
    const byItem = (a: Placement, b: Placement): number => a.item - b.item
    doc.sheets.forEach((s, i) => {
      expect([...shown(other.store.getState(), s)].sort(byItem)).toEqual([...pictures[i]!].sort(byItem))
    })
    expect(doc.sheets.map((s) => s.holds)).toEqual([['one'], []])
    for (const ask of other.asked.filter((a) => a.options.hint)) await reply(ask)
    const { doc: after } = other.store.getState().history
    after.sheets.forEach((s, i) => {
      expect([...shown(other.store.getState(), s)].sort(byItem)).toEqual([...pictures[i]!].sort(byItem))
    })
    expect(other.actions.save().text).toBe(saved.text)
  })

  it('a broken file leaves the document as it was and says where, what, and what would be right', async () => {
    const sample = await solvedSample()
    sample.actions.hold('one')
    const before = sample.store.getState().history
    for (const bad of [
      '{',
      text({ format: 'deckwright-project', version: 1, units: 'mm', name: 3, decks: [], items: 'no' }),
    ]) {
      expect(sample.actions.open(bad, 'bad.json')).toBe(false)
      expect(sample.store.getState().history).toBe(before)
      const { problems } = sample.store.getState().broken!
      expect(problems.length).toBeGreaterThan(0)
      for (const p of problems) expect(p.found && p.expected).toBeTruthy()
    }
    expect(sample.store.getState().broken!.problems.map((p) => p.path)).toEqual(
      expect.arrayContaining(['name', 'items']),
    )
    sample.actions.dismiss()
    expect(sample.store.getState().broken).toBeUndefined()
  })

  it('what a file says about holds and places that are not there is passed over', async () => {
    const sample = await solvedSample()
    const page = {
      holds: { whole: ['nobody', 7, 'one'], gone: 3 },
      placements: { whole: [{ item: 'x' }, 5, { item: 'one', deck: 'main', at: [5, 'b'], turn: 0 }] },
    }
    const { project } = await import('./store-sample.ts')
    expect(sample.actions.open(text({ ...project, page }), 'odd.json')).toBe(true)
    expect(sheetOf(sample).holds).toEqual([])
    expect(sheetOf(sample).placements).toBeUndefined()
  })

  it('a new deck is empty, of that size, and fits', async () => {
    const sample = await solvedSample()
    sample.actions.newDeck(140, 90)
    const sheet = sheetOf(sample)
    expect(sheet.problem.items).toEqual([])
    expect(sheet.problem.decks[0]?.outline).toMatchObject({ kind: 'rect', w: mm(140), h: mm(90) })
    await reply(sample.asked.at(-1)!)
    expect(viewOf(sample.store.getState(), 0)?.verdict).toBe('Nothing stands on it yet.')
    const named = (taken?: readonly string[]): string => {
      sample.actions.newDeck(140, 90, taken)
      return sample.store.getState().history.doc.project.name
    }
    // in the list of what is kept, several would have one name
    expect(named()).toBe('A new deck')
    expect(named(['A new deck', 'mine', 'A new deck 2'])).toBe('A new deck 3')
  })
})

describe('while the solver looks', () => {
  it('shows the best so far, and says so', async () => {
    const sample = await solvedSample()
    const best = shown(sample.store.getState(), sheetOf(sample))
    sample.actions.open(text(), 'moss.json')
    expect(shown(sample.store.getState(), sheetOf(sample))).toEqual([])
    sample.asked
      .filter((a) => a.problem === sheetOf(sample).problem)
      .at(-1)!
      .say(best)
    expect(shown(sample.store.getState(), sheetOf(sample))).toBe(best)
    expect(viewOf(sample.store.getState(), 0)?.verdict).toMatch(
      /^Looking for better\. \d+ contacts so far, at most \d+ more are possible\.$/,
    )
    expect(viewOf(sample.store.getState(), 0)?.looking).toBe(true)
  })

  it('with no layout in time it claims nothing', async () => {
    const sample = await solvedSample()
    sample.actions.open(text(), 'moss.json')
    await sample.asked
      .filter((a) => a.problem === sheetOf(sample).problem)
      .at(-1)!
      .give({ status: 'unknown' })
    expect(viewOf(sample.store.getState(), 0)?.verdict).toBe('No layout yet: the time ran out before one was found.')
    expect(viewOf(sample.store.getState(), 0)?.figures).toBeUndefined()
    expect(viewOf(sample.store.getState(), 0)).toMatchObject({ missing: true, stuck: false })
    expect(progressOf(sample.store.getState())).toBe(
      '0 of 2 variants have their answers, of 1 no layout was found; the solver is at work on the others.',
    )
    const bare = sample.asked.at(-1)!
    await bare.give(solve(bare.problem))
    expect(progressOf(sample.store.getState())).toBe(
      '1 of 2 variants has its answer; of the other no layout was found.',
    )
  })
})
