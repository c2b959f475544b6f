/** The standards' values against copies of what was read in them, with source and status beside each value in the fixtures. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import {
  CLEARANCE,
  drillFor,
  fitOf,
  HOLE_CLASS,
  LENGTHS,
  lengthFor,
  NUT,
  PITCH,
  SCREW,
  SERIES,
  THREADS,
  type Thread,
  threadOf,
  toleranceOf,
  WASHER,
} from '../../src/export/hardware-data.ts'

interface Entry {
  id: string
  value: number | Record<string, string>
  source: string
  status: string
}
const fixture = (name: string): Entry[] =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures', name), 'utf8')) as Entry[]
const fasteners = fixture('iso-fasteners.json')
const making = fixture('iso-making.json')

describe('fasteners', () => {
  it('are those of the reference, each entry of it', () => {
    const ours: Record<string, unknown> = { 'iso273-tolerance-classes': HOLE_CLASS }
    for (const t of THREADS) {
      for (const s of SERIES) ours[`iso273-${t}-${s}`] = CLEARANCE[t][s]
      ours[`iso7089-${t}-od`] = WASHER[t].diameter
      ours[`iso7089-${t}-thickness`] = WASHER[t].thickness
      ours[`iso4762-${t}-head-knurled`] = SCREW.head[t]
      ours[`iso4032-${t}-af`] = NUT[t].flats
      ours[`iso4032-${t}-height`] = NUT[t].height
    }
    // Corners follow from the flats, and plain heads are narrower than knurled ones: nothing here keeps either.
    const rest = fasteners.filter((e) => !(e.id in ours)).map((e) => e.id)
    expect(rest.filter((id) => !/^iso4032-.*-corner-max$|^iso4762-.*-head$/.test(id))).toEqual([])
    expect(Object.keys(ours).filter((id) => !fasteners.some((e) => e.id === id))).toEqual([])
    for (const e of fasteners) if (e.id in ours) expect(ours[e.id], `${e.id}: ${e.source}`).toEqual(e.value)
    for (const e of fasteners) expect(['read', 'practice', 'memory']).toContain(e.status)
  })

  it('have a wider knurled head than a plain one, and corners that fit the flats', () => {
    const value = (id: string) => fasteners.find((e) => e.id === id)!.value as number
    for (const t of THREADS) {
      expect(SCREW.head[t]).toBeGreaterThan(value(`iso4762-${t}-head`))
      expect(Math.abs(NUT[t].flats / Math.cos(Math.PI / 6) - value(`iso4032-${t}-corner-max`))).toBeLessThan(0.01)
    }
  })

  it('have the pitches of the coarse series', () => {
    // ISO 261, column P of the table of ISO 4762, read in a standards page.
    expect(PITCH).toEqual({ M2: 0.4, 'M2.5': 0.45, M3: 0.5, M4: 0.7, M5: 0.8 })
  })

  it('come in lengths that rise, and every limit of a screw is one of them', () => {
    expect([...LENGTHS].sort((a, b) => a - b)).toEqual(LENGTHS)
    for (const t of THREADS) for (const l of SCREW.lengths[t]) expect(LENGTHS).toContain(l)
  })
})

describe('holes', () => {
  it('are told apart by their diameter alone', () => {
    for (const t of THREADS) for (const s of SERIES) expect(fitOf(CLEARANCE[t][s])).toEqual({ thread: t, series: s })
    expect([fitOf(3), fitOf(3.41), fitOf(6)]).toEqual([undefined, undefined, undefined])
  })

  it('are drilled with the nearest drill that is no narrower', () => {
    const step = (id: string) => making.find((e) => e.id === id)!.value as number
    const [fine, wide] = [step('bs328-drill-step-1-to-2.95'), step('bs328-drill-step-3-to-13.9')]
    const drills = [
      ...Array.from({ length: 40 }, (_, k) => Math.round((1 + k * fine) * 1000) / 1000),
      ...Array.from({ length: 110 }, (_, k) => Math.round((3 + k * wide) * 1000) / 1000),
    ]
    expect(drills.slice(38, 42)).toEqual([2.9, 2.95, 3, 3.1])
    expect(drills.at(-1)).toBe(13.9)
    for (let um = 1000; um <= 13_900; um += 7) {
      expect(drillFor(mm(um / 1000)), String(um)).toBe(drills.find((d) => d >= um / 1000))
    }
    expect(drills.map((d) => drillFor(mm(d)))).toEqual(drills)
    expect([drillFor(mm(0.999)), drillFor(mm(13.901))]).toEqual([undefined, undefined])
    // Every clearance hole is a drill itself.
    for (const t of THREADS) for (const s of SERIES) expect(drillFor(mm(CLEARANCE[t][s]))).toBe(CLEARANCE[t][s])
  })

  it('may be off by what ISO 2768-m says, a border belonging to the range below', () => {
    let seen = 0
    for (const e of making) {
      const range = /^iso2768m-([\d.]+)-([\d.]+)$/.exec(e.id)
      if (!range) continue
      const [from, to] = [Number(range[1]), Number(range[2])]
      expect(toleranceOf(from + 0.01), e.source).toBe(e.value)
      expect(toleranceOf(to), e.source).toBe(e.value)
      seen++
    }
    expect(seen).toBe(6)
    expect([toleranceOf(0.49), toleranceOf(1000.1)]).toEqual([undefined, undefined])
  })
})

describe('words', () => {
  it('for threads are read with or without pitch and length', () => {
    const read: [string | undefined, Thread | undefined][] = [
      ['M3', 'M3'],
      ['m2.5', 'M2.5'],
      ['M 4', 'M4'],
      ['M3×0.5', 'M3'],
      ['M2.5x12', 'M2.5'],
      ['M30', undefined],
      ['M3.5', undefined],
      ['M2.50', 'M2.5'],
      ['M6', undefined],
      ['#4-40', undefined],
      ['', undefined],
      [undefined, undefined],
    ]
    for (const [word, thread] of read) expect(threadOf(word), word).toBe(thread)
  })

  it('for lengths round up, and stay where they are', () => {
    expect([13.2, 16, 16.001, 2, 100].map(lengthFor)).toEqual([16, 16, 20, 2, 100])
    expect(lengthFor(100.1)).toBeUndefined()
  })
})
