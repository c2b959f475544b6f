import { describe, expect, it } from 'vitest'
import { boxOf } from '../../src/export/contour.ts'
import { letterShapes } from '../../src/export/letter-shapes.ts'
import { drawable, letters, lettersWidth, plainLetters } from '../../src/export/letters.ts'

const boxes = (text: string, size: number) => letters(text, 0, 0, size).map((points) => boxOf({ kind: 'open', points }))

describe('single-stroke letters', () => {
  it('are there for A–Z, a–z, digits, punctuation of a keyboard, ⌀ and ×', () => {
    for (let code = 33; code < 127; code++)
      expect(letterShapes[String.fromCharCode(code)], String.fromCharCode(code)).toBeDefined()
    for (const sign of '⌀×°±µΩ→') expect(letterShapes[sign], sign).toBeDefined()
  })

  it('stay on their grid: nothing left of the start, at most 4 wide, between −2 and 7', () => {
    const unit = 0.6 / 5.2
    for (const sign of Object.keys(letterShapes)) {
      const all = boxes(sign, 1)
      expect(Math.min(...all.map((b) => b.x0)), sign).toBeGreaterThan(-0.05 * unit)
      expect(Math.max(...all.map((b) => b.x1)), sign).toBeLessThan(4.01 * unit)
      expect(Math.min(...all.map((b) => b.y0)), sign).toBeGreaterThan(-2.05 * unit)
      expect(Math.max(...all.map((b) => b.y1)), sign).toBeLessThan(7 * unit)
    }
  })

  it('differ from one another', () => {
    const drawn = Object.values(letterShapes)
    expect(new Set(drawn).size).toBe(drawn.length)
  })

  it('never run into the next one', () => {
    for (const a of Object.keys(letterShapes)) {
      const first = Math.max(...boxes(a, 10).map((b) => b.x1))
      const both = boxes(`${a}H`, 10)
      const second = both.slice(boxes(a, 10).length)
      expect(Math.min(...second.map((b) => b.x0)), a).toBeGreaterThan(first + 1)
    }
  })

  it('take no more width than 0.6 of their height a letter, which is what the notes allow for', () => {
    for (const text of ['WWWWWWWW', 'MMM@@@', 'main board', 'servo#12']) {
      expect(lettersWidth(text, 2.6)).toBeLessThanOrEqual(0.6 * 2.6 * text.length)
      const right = Math.max(...boxes(text, 2.6).map((b) => b.x1))
      expect(right).toBeLessThanOrEqual(lettersWidth(text, 2.6) + 1e-9)
    }
  })

  it('take base letters for accents, and say which text cannot be drawn', () => {
    expect(plainLetters('Größe Ärger Élan')).toBe('Grosse Arger Elan')
    expect(drawable('Prüfstück ⌀3,4')).toBe(true)
    expect(drawable('плата')).toBe(false)
    expect(letters('板', 0, 0, 3)).toEqual([])
  })

  it('start where they are told to', () => {
    const [stem] = letters('L', 12, 34, 2.6)
    expect(stem![0]).toMatchObject({ x: 12, y: 34 + 6 * 2.6 * (0.6 / 5.2) })
    expect(stem![1]).toMatchObject({ x: 12, y: 34 })
  })
})
