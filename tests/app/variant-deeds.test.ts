/** What can be made to differ, over all demos: every deed makes a sound file and a sentence, and is taken back without a trace. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { setItem } from '../../src/model/edit-items.ts'
import { type Difference, differencesOf, withoutDifference } from '../../src/model/edit-variants.ts'
import { applyVariant, type Project, readProject, variantsOf, writeProject } from '../../src/model/index.ts'
import { asksOf, type Deed, deedsOf, done, isOwn, thingsOf, type Value } from '../../src/panels/variant-deeds.ts'
import { sentenceOf } from '../../src/panels/variant-sentences.ts'
import { words } from '../../src/words/index.ts'

const library = loadLibrary()
const demo = (name: string): Project => {
  const url = new URL(`../../demo-data/${name}.json`, import.meta.url)
  const read = readProject(readFileSync(url), name, library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const sound = (p: Project) => readProject(writeProject(p), 'edited.json', library)
const NAMES = ['greenhouse-scout', 'duct-inspector', 'shelf-reader']

/** Another value than the one that stands there. */
function other(project: Project, variant: string, thing: Parameters<typeof asksOf>[2], deed: Deed): Value {
  const asks = asksOf(project, variant, thing, deed)
  if (asks.kind === 'nothing') return undefined
  if (asks.kind === 'turns') return [asks.now[0] === 1 ? 3 : 1]
  return asks.kind === 'number' ? asks.now + 1 : (asks.now ?? 40) + 3
}

describe('making a variant differ', () => {
  it('is told in a sentence and taken back, for every thing and deed of the demos', () => {
    let tried = 0
    for (const name of NAMES) {
      const p = demo(name)
      const { id: variant } = variantsOf(p).at(-1)!
      for (const thing of thingsOf(p))
        for (const deed of deedsOf(p, variant, thing)) {
          const next = done(p, variant, thing, deed, other(p, variant, thing, deed), 'here')
          const before = differencesOf(p, variant).map((d) => sentenceOf(p, d))
          const after = differencesOf(next, variant).map((d) => sentenceOf(p, d))
          expect(after, `${thing.id} ${deed}`).not.toEqual(before)
          for (const sentence of after) expect(sentence).not.toMatch(/undefined|object|NaN|differs/)
          // Of the other variants nothing changed.
          for (const v of variantsOf(p))
            if (v.id !== variant) expect(applyVariant(next, v.id)).toEqual(applyVariant(p, v.id))
          const fresh = differencesOf(next, variant).filter((d) => !before.includes(sentenceOf(p, d)))
          const back = fresh.reduce((q, d) => withoutDifference(q, variant, d), next)
          if (fresh.length > 0 && before.every((s) => after.includes(s))) expect(back).toEqual(p)
          tried++
        }
    }
    expect(tried).toBeGreaterThan(100)
  })

  it('for all, holds in each variant and is a difference in none', () => {
    const p = demo('duct-inspector')
    const { id: variant } = variantsOf(p)[0]!
    for (const thing of thingsOf(p))
      for (const deed of deedsOf(p, variant, thing).filter((d) => !isOwn(d))) {
        const next = done(p, variant, thing, deed, other(p, variant, thing, deed), 'all')
        for (const v of variantsOf(next)) {
          const now = deedsOf(next, v.id, thing)
          const asks = now.includes(deed) ? asksOf(next, v.id, thing, deed) : undefined
          if (asks && 'now' in asks) expect(asks.now).toEqual(other(p, variant, thing, deed))
          else expect(now).not.toContain(deed)
        }
      }
  })

  it('lets the variant say a field for itself, so that the dialog of the item changes it there alone', () => {
    const p = demo('greenhouse-scout')
    const lamp = { kind: 'item', id: 'lamp' } as const
    const own = done(p, 'beside', lamp, 'own-place', undefined, 'here')
    expect(applyVariant(own, 'beside').items.find((i) => i.id === 'lamp')).toEqual(p.items.find((i) => i.id === 'lamp'))
    expect(differencesOf(own, 'beside').map((d) => sentenceOf(p, d))).toEqual([
      'lamp: at most 60 mm from the back edge, said for this variant alone.',
    ])
    expect(deedsOf(own, 'beside', lamp)).not.toContain('own-place')
    const moved = setItem(own, 'beside', 'lamp', { place: [{ kind: 'centred', axis: 'x' }] })
    expect(moved.items).toEqual(p.items)
    expect(applyVariant(moved, 'beside').items.find((i) => i.id === 'lamp')!.place).toHaveLength(1)
    expect(applyVariant(moved, 'centred')).toEqual(applyVariant(p, 'centred'))
  })

  it('calls decks by their names', () => {
    const p = demo('duct-inspector')
    const said = (d: Difference) => sentenceOf({ decks: [{ ...p.decks[0]!, id: 'main', name: 'floor' }] }, d)
    expect(said({ kind: 'out', list: 'drop', entry: 'main' })).toBe('Deck floor is not there.')
    const field = { kind: 'field', entry: 'a', list: 'items', field: 'decks', is: ['main'], was: undefined } as const
    expect(said(field)).toBe('a: on deck floor here, on any deck otherwise.')
    expect(said({ ...field, list: 'decks', entry: 'main', field: 'z', is: 5, was: 6 })).toBe(
      'deck floor: 5 mm over the ground here, 6 mm over the ground otherwise.',
    )
  })

  it('of what would leave the file unsound, the reader says so', () => {
    const p = demo('duct-inspector')
    const variant = variantsOf(p)[0]!.id
    // Every item that must stand on the upper deck loses it.
    const read = sound(done(p, variant, { kind: 'deck', id: 'upper' }, 'drop', undefined, 'here'))
    expect(read.ok ? [] : read.problems.map((x) => x.path)).not.toEqual([])
  })
})

describe('sentences about variants', () => {
  const { card, room, two, order, progress } = words.variants
  const none = { contacts: 0, value: 0, wire: undefined, balance: undefined }

  it('say differences of figures shortly for the eye and wholly for the ear', () => {
    const a = { ...none, contacts: 170, wire: { mm: '62', more: true } }
    expect(card.short(a)).toBe('+170 contacts, wire +62 mm')
    expect(card.long(a, 'centred')).toBe(', compared with centred: 170 more free contacts and wires 62 mm longer')
    const b = { contacts: -1, value: -2, wire: { mm: '3', more: false }, balance: { mm: '0.5', more: false } }
    expect(card.short(b)).toBe('−1 contact, optional items −2, wire −3 mm, off balance −0.5 mm')
    expect(card.long(none, 'centred')).toBe(', with the same figures as centred')
    expect(room.cost(true, a, true, true)).toBe(
      'Released, it would have 170 more free contacts and wires 62 mm longer.',
    )
    expect(room.cost(true, b, false, true)).toBe(
      'Released, the best found so far has 1 fewer free contact, optional items worth 2 less, wires 3 mm shorter and a balance 0.5 mm better.',
    )
    expect(room.cost(false, none, true, true)).toBe('Kept, it would have the same figures.')
    // the card says what the layout on show has
    expect(room.cost(true, none, true, false)).toBe('Best against best, released it would have the same figures.')
    expect(room.cost(false, { ...none, contacts: 2 }, false, false)).toBe(
      'Best so far against best so far, kept it has 2 more free contacts.',
    )
  })

  it('say where things stand and what comes first', () => {
    expect(two.moved('brain', 12000, -3000, '12', '3', 1)).toBe(
      'brain stands 12 mm to the right, 3 mm to the back, turned a quarter to the left',
    )
    expect(two.moved('brain', 0, 0, '0', '0', 0, 'upper deck')).toBe('brain stands on upper deck')
    expect(order.said(['balance', 'wire-length'])).toBe('In this order now: best balance, shortest wires.')
    expect(progress(1, 3)).toBe('1 of 3 variants has its answer; the solver is at work on the others.')
    expect(progress(2, 2)).toBe('All 2 variants have their answers.')
    expect(progress(0, 1, 1)).toBe('No layout of the variant was found.')
    expect(progress(0, 2, 2)).toBe('Of none of the 2 variants was a layout found.')
    expect(progress(1, 3, 2)).toBe('1 of 3 variants has its answer; of the others no layout was found.')
    expect(progress(1, 3, 1)).toBe(
      '1 of 3 variants has its answer, of 1 no layout was found; the solver is at work on the others.',
    )
  })

  it('name what has no phrase of its own, and never show what it holds', () => {
    expect(words.variants.difference('items', 'brain#2', 'power', { draws: 1 }, undefined)).toBe(
      'brain 2: what it draws differs.',
    )
    expect(words.variants.difference('decks', 'main', 'outline', {}, {})).toBe('main: its outline differs.')
    expect(words.variants.setting('power', {}, undefined)).toBe('Here what it draws differs.')
    expect(words.variants.difference('items', 'brain', 'place', [{ kind: 'centred', axis: 'x' }], undefined)).toBe(
      'brain: in the middle from left to right here, anywhere otherwise.',
    )
  })
})
