import { describe, expect, it } from 'vitest'
import { createItemKeys } from '../../src/plan/keys.ts'
import { colourOf, roundUp, shade } from '../../src/store/colour-map.ts'
import { comboOf, createKeys, FIRST_KEYS, itemDeed, type KeyLike, planDeed, rebound } from '../../src/store/key-map.ts'
import { createLayers, FIRST } from '../../src/store/layers.ts'
import {
  createPlanView,
  kept,
  NEAREST,
  type PlanView,
  paneOf,
  panned,
  WHOLE,
  zoomedAt,
} from '../../src/store/plan-view.ts'
import type { Shelf } from '../../src/store/shelf.ts'
import { solvedSample } from './store-sample.ts'

const sheet = { width: 200, height: 120 }
const pixels = { width: 500, height: 300 }

/** Where a point of the sheet (mm from its middle, y to the front) is on the screen, in pixels. */
const onScreen = (view: PlanView, at: { x: number; y: number }) => {
  const { pane, scale } = paneOf(sheet, view, pixels)
  return { x: (sheet.width / 2 + at.x - pane.x) / scale, y: (sheet.height / 2 - at.y - pane.y) / scale }
}

describe('looking at a plan', () => {
  it('shows the whole sheet at first, as large as it goes', () => {
    expect(paneOf(sheet, WHOLE, pixels)).toEqual({ pane: { x: 0, y: 0, width: 200, height: 120 }, scale: 0.4 })
    const wide = paneOf(sheet, WHOLE, { width: 1000, height: 300 })
    expect(wide.scale).toBe(0.4)
    expect(wide.pane.width).toBe(400)
    expect(wide.pane.x).toBe(-100)
  })

  it('keeps the point under the pointer where it is, nearer and back', () => {
    const at = { x: -37, y: 22 }
    for (const factor of [1.1, 2, 5]) {
      const near = zoomedAt({ zoom: 2, x: -10, y: 5 }, factor, at)
      const a = onScreen({ zoom: 2, x: -10, y: 5 }, at)
      const b = onScreen(near, at)
      expect(b.x).toBeCloseTo(a.x, 6)
      expect(b.y).toBeCloseTo(a.y, 6)
    }
  })

  it('never shows what is beyond the sheet, nor nearer than it may', () => {
    expect(kept({ zoom: 0.2, x: 50, y: 50 }, sheet)).toEqual(WHOLE)
    const { pane } = paneOf(sheet, panned({ zoom: 4, x: 0, y: 0 }, 1000, -1000), pixels)
    expect(pane.x + pane.width).toBeCloseTo(200, 9)
    expect(pane.y + pane.height).toBeCloseTo(120, 9)
    expect(kept({ zoom: 1e6, x: 0, y: 0 }, sheet).zoom).toBe(NEAREST)
    expect(zoomedAt(WHOLE, 1e9, { x: 3, y: 4 }).zoom).toBe(NEAREST)
  })

  it('is one for all plans that share it, and tells nobody when nothing changes', () => {
    const views = createPlanView()
    let told = 0
    views.store.subscribe(() => {
      told++
    })
    views.show({ zoom: 2, x: 10, y: 0 }, sheet)
    views.show({ zoom: 2, x: 10, y: 0 }, sheet)
    expect(told).toBe(1)
    views.whole()
    expect(views.store.getState()).toMatchObject(WHOLE)
  })
})

const key = (name: string, more: Partial<KeyLike> = {}): KeyLike => ({
  key: name,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  ...more,
})

const shelfOf = (first: Record<string, string> = {}): Shelf & { kept: Record<string, string> } => {
  const kept = { ...first }
  return {
    kept,
    getItem: (name) => kept[name] ?? null,
    setItem: (name, value) => {
      kept[name] = value
    },
  }
}

describe('keys', () => {
  it('are named with their modifiers, and a modifier alone is none', () => {
    expect(comboOf(key('a', { ctrlKey: true }))).toBe('Ctrl+A')
    expect(comboOf(key(' '))).toBe('Space')
    expect(comboOf(key('ArrowUp', { shiftKey: true, altKey: true }))).toBe('Alt+Shift+ArrowUp')
    expect(comboOf(key('?', { shiftKey: true }))).toBe('?')
    expect(comboOf(key('Shift', { shiftKey: true }))).toBeUndefined()
  })

  it('have no single letter, figure or sign among them at first', () => {
    for (const combo of Object.values(FIRST_KEYS)) expect(combo).toMatch(/.{2,}/)
    expect(itemDeed(FIRST_KEYS, key('r'))).toBeUndefined()
    expect(planDeed(FIRST_KEYS, key('+'))).toBeUndefined()
  })

  it('do what they are for: of an item, of the plan, apart', () => {
    expect(itemDeed(FIRST_KEYS, key('ArrowLeft'))).toBe('left')
    expect(planDeed(FIRST_KEYS, key('ArrowLeft'))).toBe('planLeft')
    expect(itemDeed(FIRST_KEYS, key('ArrowUp', { shiftKey: true }))).toBe('turnRight')
    expect(itemDeed(FIRST_KEYS, key('Home'))).toBeUndefined()
  })

  it('are refused with the reason where they are taken or not ours', () => {
    const why = (deed: Parameters<typeof rebound>[1], combo: string) => {
      const next = rebound(FIRST_KEYS, deed, combo)
      return next.ok ? 'had' : next.refusal
    }
    expect(why('hold', 'Enter')).toEqual({ why: 'taken', by: 'open' })
    expect(why('hold', 'H')).toEqual({ why: 'letter' })
    expect(why('hold', 'Shift+H')).toEqual({ why: 'letter' })
    expect(why('hold', 'Ctrl+Z')).toEqual({ why: 'history' })
    expect(why('hold', 'Ctrl+W')).toEqual({ why: 'browser' })
    expect(why('hold', 'Shift+Tab')).toEqual({ why: 'focus' })
    expect(why('hold', 'Alt+H')).toBe('had')
    // What the plan does with a key is no conflict for an item.
    expect(why('hold', 'Home')).toBe('had')
  })

  it('are kept, read again, and swapped whole; what is broken on the shelf is as at first', () => {
    const shelf = shelfOf()
    const keys = createKeys(shelf)
    expect(keys.bind('hold', 'Alt+H')).toBeUndefined()
    expect(keys.bind('left', 'Alt+L')).toBeUndefined()
    expect(keys.bind('right', 'ArrowLeft')).toBeUndefined()
    expect(keys.bind('left', 'ArrowRight')).toBeUndefined()
    expect(keys.bind('left', 'Alt+H')).toEqual({ why: 'taken', by: 'hold' })
    expect(createKeys(shelf).store.getState()).toEqual(keys.store.getState())
    expect(keys.kept()).toBe(true)
    keys.reset()
    expect(createKeys(shelf).store.getState()).toEqual(FIRST_KEYS)
    for (const bad of ['{', '7', '{"hold":"Enter"}', '{"hold":"h"}', '{"hold":7}', 'null'])
      expect(createKeys(shelfOf({ 'deckwright-keys': bad })).store.getState()).toEqual(FIRST_KEYS)
    const full: Shelf = {
      getItem: () => null,
      setItem: () => {
        throw new Error('full')
      },
    }
    const bold = createKeys(full)
    expect(bold.bind('hold', 'Alt+H')).toBeUndefined()
    expect(bold.store.getState().hold).toBe('Alt+H')
    // and it is said that they are lost with the page
    expect(bold.kept()).toBe(false)
  })

  it('that were changed work on the item, and the old ones no more', async () => {
    const { store, actions } = await solvedSample()
    const keys = createKeys()
    keys.bind('hold', 'Alt+H')
    const items = createItemKeys(store.getState, actions, keys.store.getState)
    const sheet = () => store.getState().history.doc.sheets[0]!
    const id = sheet().problem.items[0]!.id
    const press = (k: KeyLike): boolean => {
      let prevented = false
      items.press(id, { ...k, preventDefault: () => (prevented = true) })
      return prevented
    }
    expect(press(key(' '))).toBe(false)
    expect(sheet().holds).toEqual([])
    expect(press(key('h', { altKey: true }))).toBe(true)
    expect(sheet().holds).toEqual([id])
  })
})

describe('layers', () => {
  it('are switched one by one, and the sliders beside them', () => {
    const { store, flip, set } = createLayers()
    flip('loads')
    set({ slope: 12, slopeToward: 'left', pan: -30, tilt: 5, stack: 'lightest' })
    expect(store.getState()).toEqual({
      ...FIRST,
      on: { ...FIRST.on, loads: true },
      slope: 12,
      slopeToward: 'left',
      pan: -30,
      tilt: 5,
      stack: 'lightest',
    })
    flip('loads')
    expect(store.getState().on).toEqual(FIRST.on)
  })
})

describe('colour of an amount', () => {
  // Rows of the published table of viridis (Smith & van der Walt 2015, CC0), read from its 256 rows; none of them is a stop of ours
  // but the first and the last.
  const table: readonly (readonly [number, readonly [number, number, number]])[] = [
    [0, [0.267004, 0.004874, 0.329415]],
    [16, [0.282327, 0.094955, 0.417331]],
    [32, [0.278826, 0.17549, 0.483397]],
    [64, [0.229739, 0.322361, 0.545706]],
    [192, [0.369214, 0.788888, 0.382914]],
    [224, [0.678489, 0.863742, 0.189503]],
    [255, [0.993248, 0.906157, 0.143936]],
  ]

  it('is that of the published map, to what an eye can tell', () => {
    for (const [row, colour] of table)
      shade(row / 255).forEach((c, i) => {
        expect(Math.abs(c - colour[i]!), `row ${row}`).toBeLessThan(0.016)
      })
  })

  it('grows lighter all the way, by the luminance of WCAG 2.2', () => {
    const luminance = (share: number): number => {
      const [r, g, b] = shade(share).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
    }
    const all = Array.from({ length: 101 }, (_, i) => luminance(i / 100))
    expect(all.every((l, i) => i === 0 || l > all[i - 1]!)).toBe(true)
    expect(colourOf(7)).toBe(colourOf(1))
  })

  it('has a round end to its legend', () => {
    expect([0, 0.03, 0.5, 0.51, 7, 10, 230].map(roundUp)).toEqual([1, 0.05, 0.5, 1, 10, 10, 500])
  })
})
