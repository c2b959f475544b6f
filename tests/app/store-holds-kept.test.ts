/** What stays held when an edit leaves fewer copies or decks, and what is said of the holds that go. */
import { expect, it } from 'vitest'
import { removeDeck } from '../../src/model/edit-deck.ts'
import { setItem } from '../../src/model/edit-items.ts'
import { heldOn, recounted } from '../../src/store/holds-kept.ts'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { files, handPool, project as sample, text } from './store-sample.ts'

const BASE = { ...sample, variants: [], wires: [], items: [{ id: 'more', footprint: 'brick', count: 3 }] }
const at = (item: string, x: number, deck = 'main') => ({ item, deck, at: [x, 0], turn: 0 })

function opened(project: object) {
  const read = files.open(text(project), 'more.json')
  if (read.kind !== 'opened') throw new Error(JSON.stringify(read.problems))
  const { store, actions } = createDeckwright(files, handPool().pool, read.doc)
  const sheet = (k = 0) => store.getState().history.doc.sheets[k]!
  return {
    actions,
    sheet,
    doc: () => store.getState().history.doc,
    recount: (count: number, id = 'more') =>
      actions.change(setItem(store.getState().history.doc.project, sheet().variant, id, { count }), 'found-again', {
        renamed: recounted(id),
      }),
    where: (k = 0) =>
      Object.fromEntries(
        shown(store.getState(), sheet(k)).map((p) => [sheet(k).problem.items[p.item]!.id, p.at.x / 1000]),
      ),
    notes: () => viewOf(store.getState(), 0)!.notes,
  }
}

const held = (holds: string[], placements = [at('more#1', 0), at('more#2', 30), at('more#3', 60)]) => ({
  page: { holds: { base: holds }, placements: { base: placements } },
})

it('one copy fewer is one that nobody held, and the held one keeps its place', () => {
  const s = opened({ ...BASE, ...held(['more#3']) })
  expect(s.recount(2)).toEqual([])
  expect(s.where()).toEqual({ 'more#1': 0, 'more#2': 60 })
  expect(s.sheet().holds).toEqual(['more#2'])
  expect(s.notes().join()).not.toContain('held')
  expect(s.recount(1)).toEqual([])
  expect(s.where()).toEqual({ more: 60 })
  expect(s.sheet().holds).toEqual(['more'])
  expect(s.recount(3)).toEqual([])
  expect(s.where()['more#1']).toBe(60)
  s.actions.undo()
  s.actions.undo()
  s.actions.undo()
  expect(s.sheet().holds).toEqual(['more#3'])
})

it('goes first what has no place, and what hosts nothing before what does', () => {
  const s = opened({ ...BASE, ...held(['more#3'], [at('more#2', 30), at('more#3', 60)]) })
  s.recount(2)
  expect(s.where()).toEqual({ 'more#1': 60, 'more#2': 30 })
  expect(s.sheet().holds).toEqual(['more#1'])
  const items = [
    { id: 'board', footprint: 'pegboard', count: 3 },
    { id: 'peg', footprint: 'peg' },
  ]
  const placements = [at('board#1', 0), at('board#2', 35), at('board#3', 70)]
  const peg = { item: 'peg', deck: 'main', at: [71, 3], turn: 0, host: 'board#3' }
  const t = opened({ ...BASE, items, ...held(['peg'], [...placements, peg]) })
  t.recount(2, 'board')
  expect(t.where()).toEqual({ 'board#1': 0, 'board#2': 70, peg: 71 })
  const { problem } = t.sheet()
  expect(t.sheet().placements!.map((p) => p.host && problem.items[p.host]!.id)).toEqual([
    undefined,
    undefined,
    'board#2',
  ])
})

it('leaves a copy that something names what it was, and says which hold is lost for it', () => {
  const wires = [{ id: 'link', from: { item: 'more#2', terminal: 't' }, to: { item: 'two', terminal: 't' } }]
  const items = [...BASE.items, { id: 'two', footprint: 'brick' }]
  const s = opened({ ...BASE, items, wires, ...held(['more#1', 'more#3']) })
  s.recount(2)
  expect(s.where()).toEqual({ 'more#1': 0, 'more#2': 30 })
  expect(s.notes()[0]).toBe('more 3 was held, and its place is gone.')
  expect(s.recount(1)[0]).toMatchObject({ found: '"more#2"' })
})

it('counts in each variant by its own holds, and not where the count is another', () => {
  const variants = [{ id: 'left' }, { id: 'right' }, { id: 'full', items: { more: { count: 3 } } }]
  const placements = held([]).page.placements.base
  const page = {
    holds: { left: ['more#3'], right: ['more#1'], full: ['more#3'] },
    placements: { left: placements, right: placements, full: placements },
  }
  const s = opened({ ...BASE, variants, page })
  s.recount(2)
  expect([0, 1, 2].map((k) => s.where(k))).toEqual([
    { 'more#1': 0, 'more#2': 60 },
    { 'more#1': 0, 'more#2': 30 },
    { 'more#1': 0, 'more#2': 30, 'more#3': 60 },
  ])
  expect([0, 1, 2].map((k) => s.sheet(k).holds)).toEqual([['more#2'], ['more#1'], ['more#3']])
})

it('a deck that goes is asked about with what is held on it, and its holds are told afterwards', () => {
  const decks = [...BASE.decks, { id: 'top', z: 90, thickness: 3, outline: { rect: [0, 0, 100, 60] } }]
  const s = opened({ ...BASE, decks, ...held(['more#1', 'more#3'], [at('more#1', 0), at('more#3', 60, 'top')]) })
  expect(heldOn(s.doc().sheets, 'top')).toEqual(['more#3'])
  expect(s.actions.change(removeDeck(s.doc().project, 'top'))).toEqual([])
  expect(s.sheet().holds).toEqual(['more#1'])
  expect(s.notes()).toContain('more 3 was held, and its place is gone.')
  s.actions.undo()
  expect(s.notes().join()).not.toContain('its place is gone')
})
