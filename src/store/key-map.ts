/** Which key does what to the item, or to the plan, that has the focus. Kept in the browser; can be changed. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import { type Shelf, shelf } from './shelf.ts'

export const ITEM_DEEDS = [
  'left',
  'right',
  'front',
  'back',
  'turnLeft',
  'turnRight',
  'hold',
  'open',
  'takeBack',
] as const
export const PLAN_DEEDS = ['planLeft', 'planRight', 'planFront', 'planBack', 'nearer', 'farther', 'whole'] as const
export type ItemDeed = (typeof ITEM_DEEDS)[number]
export type PlanDeed = (typeof PLAN_DEEDS)[number]
export type Deed = ItemDeed | PlanDeed

/** As `Shift+ArrowLeft`: modifiers in the order Ctrl, Alt, Shift, then the key by its name; Space is called so. */
export type Combo = string
export type KeyMap = Readonly<Record<Deed, Combo>>

export const FIRST_KEYS: KeyMap = {
  left: 'ArrowLeft',
  right: 'ArrowRight',
  front: 'ArrowUp',
  back: 'ArrowDown',
  turnLeft: 'Shift+ArrowLeft',
  turnRight: 'Shift+ArrowRight',
  hold: 'Space',
  open: 'Enter',
  takeBack: 'Escape',
  planLeft: 'ArrowLeft',
  planRight: 'ArrowRight',
  planFront: 'ArrowUp',
  planBack: 'ArrowDown',
  nearer: 'PageUp',
  farther: 'PageDown',
  whole: 'Home',
}

export interface KeyLike {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
}

const MODIFIERS = ['Control', 'Alt', 'Shift', 'Meta', 'AltGraph', 'Dead', 'Unidentified', 'Process']

/** Undefined for a modifier by itself. Command counts as Ctrl. */
export function comboOf(event: KeyLike): Combo | undefined {
  if (MODIFIERS.includes(event.key)) return undefined
  const key = event.key === ' ' ? 'Space' : event.key.length === 1 ? event.key.toUpperCase() : event.key
  // What Shift makes of a sign is in the sign already.
  const shift = event.shiftKey && (event.key.length > 1 || event.key === ' ' || /\p{L}/u.test(event.key))
  return [event.ctrlKey || event.metaKey ? 'Ctrl' : '', event.altKey ? 'Alt' : '', shift ? 'Shift' : '', key]
    .filter((part) => part !== '')
    .join('+')
}

/** Shift with up or down turns too, as long as nothing else was put there. */
const ALIASES: Readonly<Record<Combo, ItemDeed>> = { 'Shift+ArrowUp': 'turnRight', 'Shift+ArrowDown': 'turnLeft' }

const find = <D extends Deed>(map: KeyMap, deeds: readonly D[], combo: Combo): D | undefined =>
  deeds.find((deed) => map[deed] === combo)

export function itemDeed(map: KeyMap, event: KeyLike): ItemDeed | undefined {
  const combo = comboOf(event)
  if (combo === undefined) return undefined
  const found = find(map, ITEM_DEEDS, combo)
  if (found) return found
  const alias = ALIASES[combo]
  return alias && map[alias] === FIRST_KEYS[alias] ? alias : undefined
}

export function planDeed(map: KeyMap, event: KeyLike): PlanDeed | undefined {
  const combo = comboOf(event)
  return combo === undefined ? undefined : find(map, PLAN_DEEDS, combo)
}

/** Why a key cannot be had: by kind, and the deed that has it. */
export type Refusal =
  | { readonly why: 'taken'; readonly by: Deed }
  | { readonly why: 'letter' | 'browser' | 'history' | 'focus' }

const BROWSER = /^(?:Ctrl\+(?:Shift\+)?[TNWRQL]|Alt\+(?:ArrowLeft|ArrowRight|F4)|F(?:1|3|5|11|12)|Ctrl\+Tab)$/

/** The map with another key for a deed, or why not. Deeds of the item and of the plan may share a key. */
export function rebound(
  map: KeyMap,
  deed: Deed,
  combo: Combo,
): { readonly ok: true; readonly map: KeyMap } | { readonly ok: false; readonly refusal: Refusal } {
  const no = (refusal: Refusal) => ({ ok: false, refusal }) as const
  if (/^(?:Shift\+)?Tab$/.test(combo)) return no({ why: 'focus' })
  if (/^Ctrl\+(?:Shift\+)?[ZY]$/.test(combo)) return no({ why: 'history' })
  if (BROWSER.test(combo)) return no({ why: 'browser' })
  if (/^(?:Shift\+)?[^+\s]$/u.test(combo)) return no({ why: 'letter' })
  const group: readonly Deed[] = (ITEM_DEEDS as readonly Deed[]).includes(deed) ? ITEM_DEEDS : PLAN_DEEDS
  const by = group.find((other) => other !== deed && map[other] === combo)
  return by ? no({ why: 'taken', by }) : { ok: true, map: { ...map, [deed]: combo } }
}

const NAME = 'deckwright-keys'

/** What is kept, or the first keys where it is not sound (any more). */
function read(shelf: Shelf | undefined): KeyMap {
  let kept: unknown
  try {
    kept = JSON.parse(shelf?.getItem(NAME) ?? '{}')
  } catch {
    return FIRST_KEYS
  }
  if (typeof kept !== 'object' || kept === null) return FIRST_KEYS
  const changed = Object.entries(kept).filter(([deed, combo]) => deed in FIRST_KEYS && typeof combo === 'string')
  const map: KeyMap = { ...FIRST_KEYS, ...Object.fromEntries(changed) }
  const sound = (deed: Deed): boolean => map[deed] === FIRST_KEYS[deed] || rebound(map, deed, map[deed]).ok
  const clash = (deeds: readonly Deed[]): boolean => new Set(deeds.map((d) => map[d])).size < deeds.length
  return [...ITEM_DEEDS, ...PLAN_DEEDS].every(sound) && !clash(ITEM_DEEDS) && !clash(PLAN_DEEDS) ? map : FIRST_KEYS
}

export interface Keys {
  readonly store: StoreApi<KeyMap>
  readonly bind: (deed: Deed, combo: Combo) => Refusal | undefined
  readonly reset: () => void
  /** Whether the browser kept the last change; where it did not, that holds until the page is closed. */
  readonly kept: () => boolean
}

export function createKeys(shelf?: Shelf): Keys {
  const store = createStore<KeyMap>(() => read(shelf))
  let kept = true
  const keep = (map: KeyMap): void => {
    store.setState(map)
    const changed = Object.entries(map).filter(([deed, combo]) => FIRST_KEYS[deed as Deed] !== combo)
    try {
      shelf?.setItem(NAME, JSON.stringify(Object.fromEntries(changed)))
      kept = shelf !== undefined
    } catch {
      kept = false
    }
  }
  return {
    store,
    bind: (deed, combo) => {
      const next = rebound(store.getState(), deed, combo)
      if (!next.ok) return next.refusal
      keep(next.map)
      return undefined
    },
    reset: () => keep(FIRST_KEYS),
    kept: () => kept,
  }
}

let shared: Keys | undefined

/** The one of the page. */
export const keys = (): Keys => {
  shared ??= createKeys(shelf())
  return shared
}
