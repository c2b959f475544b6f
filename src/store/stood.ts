/** Where things stood before nothing fitted, so that a plan on which nothing has a place still shows what it was about. */
import type { Placement, Problem } from '../../solver/index.ts'
import type { Sheet } from './document.ts'
import { findingsOf } from './judged.ts'
import type { State } from './state.ts'

/** What one alone is called, and the first of several: the same body, so that it is still known where it stood. */
const ofSeveral = (id: string): string => (id.includes('#') ? id : `${id}#1`)

/** A layout of one problem in the numbers of another: what is in both, by its name, on decks and boards that are in both. */
export function carriedTo(old: Problem, placements: readonly Placement[], now: Problem): readonly Placement[] {
  const items = new Map(now.items.map((item, i) => [ofSeveral(item.id), i]))
  const decks = new Map(now.decks.map((deck, i) => [deck.id, i]))
  const inNow = (index: number | undefined): number | undefined =>
    index === undefined ? undefined : items.get(ofSeveral(old.items[index]?.id ?? ''))
  return placements.flatMap(({ host: on, ...p }): Placement[] => {
    const item = inNow(p.item)
    const deck = decks.get(old.decks[p.deck]?.id ?? '')
    const host = inNow(on)
    if (item === undefined || deck === undefined || (on !== undefined && host === undefined)) return []
    return [{ ...p, item, deck, ...(host === undefined ? {} : { host }) }]
  })
}

/** The last layout of a variant that kept every rule, from the steps before this one; undefined where there was none. */
export function stoodBefore({ history, known }: Pick<State, 'history' | 'known'>, sheet: Sheet) {
  for (let k = history.past.length - 1; k >= 0; k--) {
    const old = history.past[k]?.sheets.find((s) => s.variant === sheet.variant)
    const placements = old && (old.placements ?? known.get(old.problem)?.placements)
    if (!old || !placements || placements.length === 0 || findingsOf(old.problem, placements).length > 0) continue
    const stood = carriedTo(old.problem, placements, sheet.problem)
    if (stood.length > 0) return stood
  }
  return undefined
}
