import { describe, expect, it } from 'vitest'
import { lengthText, readLength } from '../../src/model/lengths.ts'
import fc from '../seeded.ts'

/** mm, or what was expected in its place. */
const read = (text: string): number | string => {
  const got = readLength(text)
  return got.ok ? got.mm : got.expected
}

describe('a typed length', () => {
  // 1 in = 25.4 mm exactly: international yard and pound agreement of 1959 (from memory); the rest is arithmetic.
  it.each([
    ['165', 165],
    ['165 mm', 165],
    [' 165MM ', 165],
    ['16,5 cm', 165],
    ['16.5cm', 165],
    ['0,165 m', 165],
    ['6.5in', 165.1],
    ['6,5 in.', 165.1],
    ['6 1/2"', 165.1],
    ['6-1/2 in', 165.1],
    ['6 - 1/2 inches', 165.1],
    ['6½″', 165.1],
    ['6 ½ in', 165.1],
    ['1/2"', 12.7],
    ['13/16 inch', 20.638],
    ["1''", 25.4],
    ['3/2 in', 38.1],
    ['2 1/4 mm', 2.25],
    ['.5', 0.5],
    ['5.', 5],
    ['-3', -3],
    ['−3,25', -3.25],
    ['- 1 1/2"', -38.1],
    ['+4', 4],
    ['0', 0],
    ['-0', 0],
    ['1,2345', 1.235],
  ])('%s is %d mm', (text, mm) => {
    expect(read(text)).toBe(mm)
  })

  it.each([
    ['', /a length such as/],
    ['  ', /a length such as/],
    ['wide', /a length such as/],
    ['12 apples', /mm, cm, m, in or "/],
    ['1,234.5', /one decimal sign/],
    ['1.2.3', /one decimal sign/],
    ['1/0 in', /something else than 0/],
    ['6 3/2"', /smaller than 1/],
    ['6.5 1/2"', /a length such as/],
    ['1e3', /a length such as/],
    ['6 7', /a length such as/],
    ['6-7', /a length such as/],
    ['5\' 6"', /a length such as/],
    ['Infinity', /a length such as|mm, cm, m/],
    ['10000.1', /-10000 to 10000 mm/],
    ['9'.repeat(61), /a length such as/],
  ])('%s is refused', (text, expected) => {
    expect(read(text)).toMatch(expected)
  })

  it('names its limits, in inches too for whoever typed inches', () => {
    const limits = { least: 20, most: 1000 }
    expect(readLength('10', limits)).toEqual({ ok: false, found: '“10”', expected: '20 to 1000 mm' })
    expect(readLength('1/2"', limits)).toMatchObject({ expected: '20 to 1000 mm (0.787 to 39.37 in)' })
    expect(readLength('20', limits)).toMatchObject({ ok: true, mm: 20 })
    expect(readLength('1000', limits)).toMatchObject({ ok: true, mm: 1000 })
    expect(readLength('100 cm', limits)).toMatchObject({ ok: true, mm: 1000, unit: 'cm', unitTyped: true })
  })

  it('takes a bare number in the unit that is asked for', () => {
    expect(readLength('6 1/2', undefined, 'in')).toMatchObject({ ok: true, mm: 165.1, unit: 'in', unitTyped: false })
    expect(readLength('165 mm', undefined, 'in')).toMatchObject({ ok: true, mm: 165, unit: 'mm', unitTyped: true })
  })

  it('reads back every length that it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), fc.boolean(), (um, comma) => {
        const text = lengthText(um / 1000)
        expect(read(comma ? text.replace('.', ',') : text)).toBe(um === 0 ? 0 : um / 1000)
      }),
    )
  })

  it('agrees with whole-number arithmetic on fractions of an inch', () => {
    const inch = fc.tuple(fc.nat(300), fc.constantFrom(2, 4, 8, 16, 32, 64), fc.nat(63), fc.constantFrom(' ', '-'))
    fc.assert(
      fc.property(inch, ([whole, under, part, between]) => {
        const over = part % under
        // 25.4 mm = 25400 µm; the nearest µm, halves up
        const um = Math.floor(((whole * under + over) * 25400 * 2 + under) / (2 * under))
        const exact = ((whole * under + over) * 25400) % under === 0
        const mm = read(`${whole}${between}${over}/${under}"`) as number
        if (exact) expect(mm).toBe(um / 1000)
        else expect(Math.abs(Math.round(mm * 1000) - um)).toBeLessThanOrEqual(1)
      }),
    )
  })

  it('never throws, and a refusal says what was found', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.,/-+ "\'incmµ½⁄eé\n'), maxLength: 70 }), (text) => {
        const got = readLength(text)
        if (got.ok) expect(Math.abs(got.mm)).toBeLessThanOrEqual(10_000)
        else expect(got.found.length).toBeGreaterThan(0)
      }),
    )
  })
})
