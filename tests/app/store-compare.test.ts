/** Two variants against each other. */
import { describe, expect, it } from 'vitest'
import { type Placement, um } from '../../solver/index.ts'
import { copyVariant, withRoom } from '../../src/model/edit-variants.ts'
import type { Project } from '../../src/model/index.ts'
import { against, besideIn, createBeside, knownOf, placesApart, soundFigures } from '../../src/store/compare.ts'
import { shown } from '../../src/store/store.ts'
import { figuresOf } from '../../src/store/view.ts'
import { files, reply, project as sample, solvedSample, text } from './store-sample.ts'

const doc = (project: unknown) => {
  const opened = files.open(text(project), 'x.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  return opened.doc
}

/** Two decks, two copies of a brick and a lone one. */
const laid = doc({
  ...sample,
  decks: [...sample.decks, { id: 'top', name: 'upper deck', z: 90, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
  items: [
    { id: 'pair', footprint: 'brick', count: 2 },
    { id: 'lone', footprint: 'brick' },
  ],
  wires: [],
  variants: [],
}).sheets[0]!.problem
const at = (item: number, x: number, y: number, turn: Placement['turn'] = 0, deck = 0): Placement => ({
  item,
  deck,
  at: { x: um(x * 1000), y: um(y * 1000) },
  turn,
})
const apart = (a: Placement[], b: Placement[]) =>
  placesApart({ problem: laid, placements: a }, { problem: laid, placements: b }).map(({ here, there, ...words }) => {
    // What is said is what the two placements say.
    if (here && there && !words.deck)
      expect([there.at.x - here.at.x, there.at.y - here.at.y]).toEqual([words.dx, words.dy])
    expect([!!here, !!there]).toEqual([words.kind !== 'only-there', words.kind !== 'only-here'])
    return words
  })

describe('places', () => {
  it('are the same where copies only changed places', () => {
    expect(apart([at(0, 0, 0), at(1, 40, 0)], [at(0, 40, 0), at(1, 0, 0)])).toEqual([])
  })

  it('differ by what the nearest copy moved, turned, or went to another deck', () => {
    expect(apart([at(0, 0, 0), at(1, 40, 0)], [at(0, 43, 5, 1), at(1, 0, 0)])).toEqual([
      { item: 'pair#2', kind: 'moved', dx: 3000, dy: 5000, turns: 1, deck: undefined },
    ])
    expect(apart([at(2, 5, 5, 1)], [at(2, 5, 5, 0, 1)])).toEqual([
      { item: 'lone', kind: 'moved', dx: 0, dy: 0, turns: 3, deck: 'upper deck' },
    ])
  })

  it('tell what stands in one of them alone', () => {
    expect(apart([at(0, 0, 0), at(2, 5, 30)], [at(0, 0, 0), at(1, 50, 0)])).toEqual([
      { item: 'pair#2', kind: 'only-there', dx: 0, dy: 0, turns: 0, deck: undefined },
      { item: 'lone', kind: 'only-here', dx: 0, dy: 0, turns: 0, deck: undefined },
    ])
  })

  it('name a copy that is there only as none is named that stands here', () => {
    expect(apart([at(0, 0, 0)], [at(0, 50, 0), at(1, 3, 0)])).toEqual([
      { item: 'pair#1', kind: 'moved', dx: 3000, dy: 0, turns: 0, deck: undefined },
      { item: 'pair#2', kind: 'only-there', dx: 0, dy: 0, turns: 0, deck: undefined },
    ])
  })
})

describe('figures', () => {
  it('are compared with their signs, and not where there is nothing to compare', () => {
    const one = { freeTiePoints: 40, optionalValue: 2, newHoles: 0, wireLength: 5000, balance: 300, wires: [] }
    const two = { ...one, freeTiePoints: 25, wireLength: 9000, balance: 100 }
    const wired = { ...two, wires: [{ wire: 0, length: um(9000), cut: um(9000) }] }
    expect(against(two, one)).toEqual({ contacts: -15, value: 0, wire: undefined, balance: -200 })
    expect(against(wired, one).wire).toBe(4000)
    const { balance: _, ...light } = one
    expect(against(light, one).balance).toBeUndefined()
  })
})

describe('what the other way of asking came to', () => {
  it('is found in another variant, and in what was asked before an edit', async () => {
    const s = await solvedSample()
    const { project } = s.store.getState().history.doc
    // Without board and peg, `whole` asks what `bare` asks.
    let without: Project = withRoom(project, 'whole', { kind: 'item', id: 'board' }, false)
    expect(knownOf(s.store.getState(), without, 'whole').kind).toBe('never')
    without = withRoom(without, 'whole', { kind: 'item', id: 'peg' }, false)
    const bare = s.store.getState().history.doc.sheets[1]!
    expect(knownOf(s.store.getState(), without, 'whole')).toEqual({
      kind: 'solved',
      figures: figuresOf(bare.problem, shown(s.store.getState(), bare)),
      proven: true,
    })
    // After the edit, the way it was asked before is the other way.
    expect(s.actions.change(without, 'anew')).toEqual([])
    const before = knownOf(s.store.getState(), project, 'whole')
    expect(before.kind === 'solved' && before.figures.freeTiePoints).toBeGreaterThan(0)
  })

  it('is being looked for while a variant that asks it has no answer', async () => {
    const s = await solvedSample()
    const { project, id } = copyVariant(s.store.getState().history.doc.project, 'whole')
    const changed = withRoom(project, id, { kind: 'item', id: 'peg' }, false)
    expect(s.actions.change(changed)).toEqual([])
    expect(knownOf(s.store.getState(), changed, id).kind).toBe('looking')
    await reply(s.asked.at(-1)!)
    expect(knownOf(s.store.getState(), changed, id).kind).toBe('solved')
    const figures = soundFigures(s.store.getState(), 1)!
    // The peg covers two contacts and those under its body.
    expect(against(figures, soundFigures(s.store.getState(), 0)!).contacts).toBeGreaterThanOrEqual(2)
  })

  it('is that it cannot be, where that is proven', async () => {
    const s = await solvedSample()
    const { project } = s.store.getState().history.doc
    const items = project.items.map((i) => ({ ...i, ...(i.id === 'one' ? { stack: 3 } : {}) }))
    const tall: Project = {
      ...project,
      items: items.map((i) => (i.id === 'two' ? { ...i, place: [{ kind: 'near', item: 'one', within: 1 }] } : i)),
    }
    expect(s.actions.change(tall, 'anew')).toEqual([])
    for (const one of s.asked.slice(2)) await reply(one)
    expect(knownOf(s.store.getState(), tall, 'bare').kind).toBe('cannot')
    expect(soundFigures(s.store.getState(), 1)).toBeUndefined()
  })
})

describe('the second variant on the stage', () => {
  it('is one that is there, and never the first', async () => {
    const s = await solvedSample()
    const beside = createBeside()
    const index = () => besideIn(s.store.getState(), beside.getState())
    expect(index()).toBeUndefined()
    beside.setState({ variant: 'bare' })
    expect(index()).toBe(1)
    s.actions.choose(1)
    expect(index()).toBeUndefined()
    beside.setState({ variant: 'gone' })
    expect(index()).toBeUndefined()
  })
})
