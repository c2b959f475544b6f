/** What people type and what they mean by it; the questions are ours. */
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { type FootprintFile, kindOf } from '../../footprints/schema.ts'
import { findFootprints } from '../../src/model/find-footprint.ts'

const library = [...loadLibrary().values()]
const ids = (question: string): string[] => findFootprints(library, question).map((h) => h.footprint.id)
const first = (question: string): string | undefined => ids(question)[0]

describe('finding a part', () => {
  it('by word and size', () => {
    expect(first('board 65x30')).toBe('computer-65x30')
    expect(first('65 × 30 mm')).toBe('computer-65x30')
    expect(first('30 by 65')).toBe('computer-65x30')
    expect(first('6,5cm x 3cm')).toBe('computer-65x30')
    expect(first('2.56 x 1.18 in')).toBe('computer-65x30')
    expect(first('65 x 30 x 9')).toBe('computer-65x30')
    expect(ids('65 x 30 x 90')).not.toContain('computer-65x30')
  })

  it('by what can be counted on it', () => {
    expect(ids('breadboard 400')).toEqual(['breadboard-400'])
    expect(ids('170 tie points')).toEqual(['breadboard-170'])
    expect(ids('7 pins')).toEqual(['driver-7-in-line'])
    const four = findFootprints(library, '4 holes').map((h) => h.footprint)
    const holes = (f: FootprintFile): number => ('holes' in f.mount ? (f.mount.holes ?? []).length : 0)
    expect(new Set(four)).toEqual(new Set(library.filter((f) => holes(f) === 4)))
    expect(first('header 2x8')).toBe('header-2x8')
  })

  it('by one side, however it is typed, and never by the unit’s letters', () => {
    const near = library.filter((f) => Math.min(...[f.body.width, f.body.depth].map((s) => Math.abs(s - 47))) <= 3)
    for (const typed of ['47mm', '47 mm', '4,7 cm', '1.85 in', '1,85"', '47 mm wide'])
      expect(new Set(ids(typed)), typed).toEqual(new Set(near.map((f) => f.id)))
    expect(first('47 mm')).toBe('breadboard-170')
    expect(first('breadboard 1 7/8 in')).toBe('breadboard-170')
    expect(ids('under 20 mm').length).toBeGreaterThan(0)
    for (const id of ids('under 20 mm')) {
      const { body } = library.find((f) => f.id === id)!
      expect(Math.max(body.width, body.depth)).toBeLessThanOrEqual(20)
    }
  })

  it('by mass, by numbers in words, by more or less than', () => {
    const weighs = (id: string): number => library.find((f) => f.id === id)!.mass ?? 0
    expect(first('44 g')).toBe('head-micro-drop-in')
    expect(ids('44g').every((id) => Math.abs(weighs(id) - 44) <= 4.4)).toBe(true)
    expect(ids('over 0.1 kg').every((id) => weighs(id) >= 100)).toBe(true)
    expect(ids('four holes')).toEqual(ids('4 holes'))
    expect(new Set(ids('at least 400 contacts'))).toEqual(new Set(['breadboard-400', 'breadboard-830']))
    expect(ids('> 400 contacts')).toEqual(['breadboard-830'])
    expect(ids('breadboard less than 400 contacts')).toEqual(['breadboard-170'])
    expect(ids('header in one row')).toContain('header-1x4')
  })

  it('by words that are written apart', () => {
    expect(ids('bread board')).toEqual(ids('breadboard'))
    expect(ids('h bridge')).toEqual(ids('h-bridge'))
    expect(ids('mini breadboard')).toEqual(['breadboard-170'])
    expect(first('on/off switch')).toBe('slide-switch')
  })

  it('by trade words that the name does not have', () => {
    expect(new Set(ids('battery'))).toEqual(new Set(library.filter((f) => kindOf(f) === 'pack').map((f) => f.id)))
    expect(ids('h-bridge').every((id) => id.startsWith('driver'))).toBe(true)
    expect(ids('sonar')).toEqual(['sensor-ultrasonic'])
    expect(ids('servo').every((id) => id.startsWith('head'))).toBe(true)
  })

  it('forgives a slip or two in a word, and none in a short one', () => {
    expect(ids('bredboard')).toEqual(ids('breadboard'))
    expect(first('ultrasonc')).toBe('sensor-ultrasonic')
    expect(first('contorller 45 18')).toBe('controller-plug-in-45x18')
    expect(ids('xyz')).toEqual([])
  })

  it('says when nothing meets all of the question', () => {
    const hits = findFootprints(library, 'breadboard 65x30')
    expect(hits.length).toBeGreaterThan(0)
    expect(hits.every((h) => !h.whole)).toBe(true)
    expect(findFootprints(library, 'breadboard').every((h) => h.whole)).toBe(true)
  })

  it('finds every part by its name, its id and its size', () => {
    for (const f of library) {
      expect(ids(f.name ?? ''), f.name).toContain(f.id)
      expect(ids(f.id), f.id).toContain(f.id)
      expect(ids(`${f.body.width} x ${f.body.depth} x ${f.body.height}`), f.id).toContain(f.id)
    }
  })

  it('shows all for an empty question, and takes any text', () => {
    expect(ids(' ')).toHaveLength(library.length)
    for (const odd of ['"', '(((', 'x x x', '×', '1'.repeat(500), '__proto__', '5 constructor', '½"'])
      expect(() => findFootprints(library, odd)).not.toThrow()
  })
})
