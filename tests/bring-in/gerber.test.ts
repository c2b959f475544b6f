import { describe, expect, it } from 'vitest'
import { areaOf, boxOf, chain, circle, type Segment } from '../../src/bring-in/board-contour.ts'
import { Findings } from '../../src/bring-in/board-findings.ts'
import { readGerber } from '../../src/bring-in/gerber.ts'
import { arcTo } from '../../src/bring-in/gerber-arc.ts'
import fc from '../seeded.ts'

const HEAD = '%FSLAX36Y36*%\n%MOMM*%\n%ADD10C,0*%\nD10*\n'
function read(body: string, head = HEAD) {
  const findings = new Findings('a.gbr')
  const layer = readGerber({ name: 'a.gbr', text: `${head}${body}` }, undefined, findings)
  return { layer, findings, problems: findings.problems }
}
const strokes = (body: string, head?: string) => {
  const { layer, problems } = read(body, head)
  expect(problems).toEqual([])
  return layer!.strokes
}
const near = (v: { x: number; y: number }, x: number, y: number) =>
  expect(Math.hypot(v.x - x, v.y - y)).toBeLessThan(1e-6)

describe('arcs', () => {
  it('with G75 turn as told, a full circle where the ends are equal', () => {
    const quarter = strokes('G75*X1000000Y0D02*G03X0Y1000000I-1000000J0D01*M02*')
    expect(quarter).toHaveLength(1)
    expect(quarter[0]!.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 12)
    // The other way round it is three quarters of the circle, told in two parts.
    const long = strokes('G75*X1000000Y0D02*G02X0Y1000000I-1000000J0D01*M02*')
    expect(long.map((s) => s.bulge)).toEqual([
      expect.closeTo(-Math.tan((3 * Math.PI) / 16)),
      expect.closeTo(-Math.tan((3 * Math.PI) / 16)),
    ])
    near(long[0]!.to, -Math.SQRT1_2, -Math.SQRT1_2)
    const full = boxOf(strokes('G75*X3000000Y2000000D02*G03X3000000Y2000000I-1000000J0D01*M02*'))
    expect(full).toEqual({ x0: 1, y0: 1, x1: 3, y1: 3 })
  })

  it('with the deprecated G74 have unsigned offsets and a quarter at most', () => {
    const [arc] = strokes('G74*X1000000Y0D02*G03X0Y1000000I1000000J0D01*M02*')
    expect(arc!.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 12)
    expect(read('G74*X1000000Y0D02*G03X-1000000Y0I1000000J0D01*M02*').problems).toMatchObject([{ path: 'G03' }])
  })

  it('made from any centre, radius and sweep come back with their area and box', () => {
    const angle = fc.double({ min: -6.2, max: 6.2, noNaN: true })
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 50, noNaN: true }), angle, angle, (r, a, sweep) => {
        fc.pre(Math.abs(sweep) > 0.01)
        const at = (t: number) => ({ x: 3 + r * Math.cos(t), y: -7 + r * Math.sin(t) })
        const offset = { x: 3 - at(a).x, y: -7 - at(a).y }
        const arc = arcTo(at(a), at(a + sweep), offset, sweep > 0, false)
        if (typeof arc === 'string' || arc.kind !== 'arc') throw new Error(String(arc))
        const parts = arc.parts.map((p) => ({ ...p, line: 1 }))
        const close: Segment = { from: at(a + sweep), to: at(a), bulge: 0, line: 1 }
        // A circular segment's area: r²/2 (θ − sin θ), elementary geometry.
        const s = Math.abs(sweep)
        expect(areaOf([...parts, close])).toBeCloseTo((r * r * (s - Math.sin(s))) / 2, 6)
        // The box against 4000 points along the arc.
        const box = boxOf(parts)
        let top = -Infinity
        for (let i = 0; i <= 4000; i++) top = Math.max(top, at(a + (sweep * i) / 4000).y)
        expect(box.y1).toBeGreaterThanOrEqual(top - 1e-9)
        expect(box.y1 - top).toBeLessThan(r * 2e-6)
      }),
      { numRuns: 100 },
    )
  })
})

describe('chaining', () => {
  it('finds closed contours in any order and direction, with small gaps closed and large ones not', () => {
    const side = fc.record({ swap: fc.boolean(), key: fc.double({ min: 0, max: 1, noNaN: true }) })
    fc.assert(
      fc.property(
        fc.array(side, { minLength: 12, maxLength: 12 }),
        fc.constantFrom(0, 0.0004, 0.05, 0.2),
        (sides, gap) => {
          const corners = sides.map((_, i) => ({
            x: 20 * Math.cos((i * Math.PI) / 6),
            y: 20 * Math.sin((i * Math.PI) / 6),
          }))
          const made = sides.map(({ swap, key }, i) => {
            const from = corners[i]!
            const to = { x: corners[(i + 1) % 12]!.x + (i === 4 ? gap : 0), y: corners[(i + 1) % 12]!.y }
            return { s: { from: swap ? to : from, to: swap ? from : to, bulge: 0, line: i }, key }
          })
          const r = chain([...made.sort((a, b) => a.key - b.key).map((m) => m.s), ...circle({ x: 0, y: 0 }, 2, 99)])
          if (gap > 0.1) {
            expect(r.open.map((o) => o.length)).toEqual([12])
            expect(r.closed).toHaveLength(1)
          } else {
            expect(r.open).toEqual([])
            expect(r.closed.map((c) => Math.round(areaOf(c))).sort()).toEqual([1200, Math.round(4 * Math.PI)].sort())
            expect(r.gaps.map((g) => Math.round(g * 1000))).toEqual(gap > 0.001 ? [50] : [])
          }
        },
      ),
      { numRuns: 60 },
    )
  })

  it('counts a segment that stands there twice once', () => {
    const square = [0, 1, 2, 3].map((i) => {
      const p = (k: number) => ({ x: [0, 10, 10, 0][k % 4]!, y: [0, 0, 10, 10][k % 4]! })
      return { from: p(i), to: p(i + 1), bulge: 0, line: i }
    })
    const r = chain([...square, { ...square[2]!, from: square[2]!.to, to: square[2]!.from }])
    expect([r.closed.length, r.open.length, r.twice]).toEqual([1, 0, 1])
  })
})

describe('the rest of the format', () => {
  it('leading zeros may be left out, deprecated trailing ones too, and inches are 25.4 mm', () => {
    near(strokes('X1500Y0D02*X20000Y-5D01*M02*', '%FSLAX24Y24*%%MOIN*%%ADD10C,0.01*%D10*')[0]!.to, 50.8, -0.0127)
    near(strokes('X0015Y0D02*X02Y-000005D01*M02*', '%FSTAX24Y24*%%MOIN*%%ADD10C,0.01*%D10*')[0]!.to, 50.8, -0.0127)
    near(strokes('X1500Y0D02*X20000D01*M02*', 'G70*%FSLAX24Y24*%%ADD10C,0.01*%D10*')[0]!.to, 50.8, 0)
  })

  it('macros, blocks, attributes and comments are passed by; what clears and repeats is listed', () => {
    const { layer, problems, findings } = read(
      '%AMROUND*\n4,1,3,0,0,1,0,\n1,1,0,0,0*\n1,1,0.5,0,0*%%ADD11ROUND*%%TA.AperFunction,Other,a b*%G04 X1Y1D01*%ABD12*%' +
        'D11*X5000000Y5000000D03*%AB*%D10*%SRX2Y3I1J1*%X0Y0D02*X1000000D01*%SR*%%LPC*%X0D01*M02*',
    )
    expect(problems).toEqual([])
    expect([layer!.strokes.length, layer!.flashes.length]).toEqual([1, 0])
    expect(findings.unused().join('\n')).toMatch(/block apertures.*first copy is read.*strokes that clear/s)
  })

  it('a scaled, mirrored or negative image is refused', () => {
    for (const code of ['MIA1B0', 'SFA2B1', 'OFA1B0', 'IR90', 'IPNEG', 'IFother.gbr', 'ZZ']) {
      expect(read(`%${code}*%M02*`).problems).toHaveLength(1)
    }
    expect(read('%MIA0B0*%%SFA1.0B1.0*%%OFA0B0*%%IR0*%%IPPOS*%%LNname*%M02*').problems).toEqual([])
  })
})
