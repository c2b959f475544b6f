import { describe, expect, it } from 'vitest'
import { caliper } from '../../src/bring-in/caliper.ts'
import { modelOf } from '../../src/bring-in/caliper-model.ts'
import fc from '../seeded.ts'
import { at, fitOf, fitted, measures, normal } from './caliper-kit.ts'

const PLATE = ['left>right 100', 'back>front 60']
const exact = { reading: 0.01, instrument: 0 }

describe('positions that can be worked out by hand', () => {
  it('have y to the front, as contract §1 has it for all decks', () => {
    const f = fitted([...PLATE, 'left>a 20', 'front>a 10'], [{ id: 'a', diameter: 3 }], exact)
    expect(at(f, 'a').x.value).toBeCloseTo(20, 9)
    expect(at(f, 'a').y.value).toBeCloseTo(50, 9)
  })

  it('two distances from the corners of an edge', () => {
    // x = (r₁² − r₂² + w²) / 2w, y = √(r₁² − x²), elementary geometry; here the 3-4-5 triangle: (30, 40), r₂² = 70² + 40².
    const r2 = Math.hypot(70, 40)
    const f = fitted([...PLATE, 'back-left>a 50', `back-right>a ${r2}`], [{ id: 'a', diameter: 3 }], exact)
    expect(at(f, 'a').x.value).toBeCloseTo(30, 9)
    expect(at(f, 'a').y.value).toBeCloseTo(40, 9)
    expect([f.freedom, f.factor]).toEqual([0, 1])
    // The same by propagation: ∂x/∂r₁ = r₁/w, ∂x/∂r₂ = −r₂/w, ∂x/∂w = (w² − r₁² + r₂²)/2w² = 0.7.
    const u = 0.01 * Math.hypot(50 / 100, r2 / 100, (1e4 - 2500 + r2 * r2) / 2e4)
    expect(at(f, 'a').x.u).toBeCloseTo(u, 9)
    // y = √(r₁² − x²): ∂y/∂r₁ = (r₁ − x ∂x/∂r₁)/y, the others −x/y times theirs.
    const k = -30 / 40
    const uy = 0.01 * Math.hypot((50 - 30 * 0.5) / 40, (k * -r2) / 100, k * ((1e4 - 2500 + r2 * r2) / 2e4))
    expect(at(f, 'a').y.u).toBeCloseTo(uy, 9)
  })

  it('near and far sides give centre and diameter, inner and outer sides those of two holes', () => {
    const holes = [{ id: 'a' }, { id: 'b' }]
    // a: 18.4 … 21.6 from the left, 9.4 … 12.6 from the back; b 40 to its right, 2.2 wide.
    const lines = [
      'left>a near 18.4',
      'left>a far 21.6',
      'back>a near 9.4',
      'a>b inner 37.3',
      'a>b outer 42.7',
      'b>back centre 11',
    ]
    const f = fitted([...PLATE, ...lines], [holes[0]!, { id: 'b', near: [60, 11] }], exact)
    expect(at(f, 'a').diameter.value).toBeCloseTo(3.2, 9)
    expect(at(f, 'a').x.value).toBeCloseTo(20, 9)
    expect(at(f, 'a').y.value).toBeCloseTo(11, 9)
    expect(at(f, 'b').x.value).toBeCloseTo(60, 9)
    expect(at(f, 'b').diameter.value).toBeCloseTo(2.2, 9)
    // A diameter that is measured itself, as the mean of its readings.
    expect(at(fitted([...PLATE, 'a>left 5', 'a>front 7', 'a 3.1 3.3'], [{ id: 'a' }], exact), 'a')).toMatchObject({
      diameter: { value: expect.closeTo(3.2, 9) },
      y: { value: expect.closeTo(53, 9) },
    })
  })

  it('repeated readings: mean, standard deviation and standard error', () => {
    // JCGM 100:2008 (GUM) §4.4.3, table 1: 20 temperatures, mean 100.145, s = 1.489, s/√20 = 0.333; from memory. A hundredth of what
    // they differ from 100 by, as millimetres, so that they scatter as a caliper's readings do.
    const temperatures =
      '96.90 98.18 98.25 98.61 99.03 99.49 99.56 99.74 99.89 100.07 100.33 100.42 100.68 100.95 101.11 101.20 101.57 101.84 102.36 102.72'
    const readings = temperatures.split(' ').map((t) => 100 + (Number(t) - 100) / 100)
    const f = fitted(
      ['left>right 200', 'back>front 60', `left>a ${readings.join(' ')}`, 'back>a 30'],
      [{ id: 'a', diameter: 3 }],
      {
        instrument: 0,
      },
    )
    expect(f.measures[2]!.value).toBeCloseTo(100.00145, 9)
    expect(f.measures[2]!.spread).toBeCloseTo(0.01489, 5)
    expect(at(f, 'a').x.value).toBeCloseTo(100.00145, 6)
    expect(at(f, 'a').x.u).toBeCloseTo(0.00333, 5)
    expect(f.assumptions.join()).toContain('one reading scatters by 0.015 mm, from 19 repeated readings')
  })

  it('a sum that does not close is shared out', () => {
    // Condition left + right = width, equal weights: each takes a third of the misclosure w; u(x) = u√(2/3); the normalised residual
    // is w/(u√3). Adjustment by one condition equation, textbook method (e.g. on least squares in surveying); worked by hand.
    const f = fitted(
      ['left>right 100', 'back>front 60', 'left>a 30.03', 'a>right 70.03', 'back>a 20'],
      [{ id: 'a', diameter: 3 }],
      {
        reading: 0.03,
        instrument: 0,
      },
    )
    expect(f.width.value).toBeCloseTo(100.02, 9)
    expect(at(f, 'a').x.value).toBeCloseTo(30.01, 9)
    expect(at(f, 'a').x.u).toBeCloseTo(0.03 * Math.sqrt(2 / 3), 9)
    expect(f.chi2).toBeCloseTo(4 / 3, 9)
    expect(f.measures.map((m) => m.normalised && Math.abs(m.normalised))).toEqual([
      expect.closeTo(2 / Math.sqrt(3), 6),
      undefined,
      expect.closeTo(2 / Math.sqrt(3), 6),
      expect.closeTo(2 / Math.sqrt(3), 6),
      undefined,
    ])
    expect([f.freedom, f.factor]).toEqual([1, 1])
  })
})

describe('what the measures do not say', () => {
  const a = { id: 'a', diameter: 3 }
  const b = { id: 'b', diameter: 3 }
  const tied = [...PLATE, 'left>a 20', 'back>a 30']

  it('points that stay loose are named, with what of them', () => {
    const loose = (lines: string[], holes = [a, b]) => {
      const r = caliper(measures(lines, holes))
      return r.status === 'undetermined' ? r.loose.map((u) => `${u.point} ${u.what}`) : r.status
    }
    expect(loose(['left>right 100', 'left>a 20', 'back>a 30'], [a])).toEqual(['front depth'])
    expect(loose([...PLATE, 'left>a 20'], [a])).toEqual(['a y'])
    expect(loose([...tied, 'a>b 40'])).toEqual(['b x', 'b y'])
    expect(loose([...tied])).toEqual(['b x', 'b y'])
    // Two holes that know each other and nothing else.
    expect(loose([...PLATE, 'a>b 40'])).toEqual(['a x', 'a y', 'b x', 'b y'])
    expect(caliper(measures([...tied, 'left>a near 18.5'], [{ id: 'a' }])).status).toBe('fitted')
    expect(caliper(measures(tied, [{ id: 'a' }]))).toMatchObject({ loose: [{ point: 'a', what: 'diameter' }] })
  })

  it('a mirrored answer is told, and a guess, a measure or the plate itself rules it out', () => {
    // b: 50 from the left, 34 from a at (20, 30), so y = 30 ± 16.
    const lines = [...tied, 'left>b 50', 'a>b 34']
    const result = caliper(measures(lines, [a, b], exact))
    const f = fitOf(result, 'ambiguous')
    if (result.status !== 'ambiguous') throw new Error(result.status)
    expect(result.others).toHaveLength(1)
    const ys = [at(f, 'b').y.value, result.others[0]![0]!.y].sort((p, q) => p - q)
    expect(ys).toEqual([expect.closeTo(14, 6), expect.closeTo(46, 6)])
    expect(at(fitted(lines, [a, { ...b, near: [50, 50] }], exact), 'b').y.value).toBeCloseTo(46, 6)
    expect(at(fitted(lines, [a, { ...b, near: [50, 10] }], exact), 'b').y.value).toBeCloseTo(14, 6)
    const corner = `front-left>b ${Math.hypot(50, 46)}`
    expect(at(fitted([...lines, corner], [a, b], exact), 'b').y.value).toBeCloseTo(14, 6)
    // On a plate that ends at 40, 46 is not on it.
    const small = lines.map((l) => (l.startsWith('back>front') ? 'back>front 40' : l))
    expect(at(fitted(small, [a, b], exact), 'b').y.value).toBeCloseTo(14, 6)
  })

  it('two holes that are mirrored together are told as well', () => {
    // Both along a at y = 30: the pair above or below it.
    const lines = [...tied, 'left>b 50', 'a>b 34', 'left>c 60', `b>c ${Math.hypot(10, 4)}`, `a>c ${Math.hypot(40, 20)}`]
    const result = caliper(measures(lines, [a, b, { id: 'c', diameter: 3 }], exact))
    if (result.status !== 'ambiguous') throw new Error(result.status)
    expect(result.others.map((o) => o.map((h) => h.id))).toEqual([['b', 'c']])
  })
})

describe('measures that do not fit', () => {
  const holes = ['a', 'b', 'c', 'd'].map((id) => ({ id, diameter: 3 }))
  const places = { a: [10, 10], b: [90, 12], c: [88, 50], d: [12, 48] } as const
  const lines = (wrong: string, by: number) => {
    const all = ['left>right 100', 'back>front 60']
    for (const [id, [x, y]] of Object.entries(places))
      all.push(`left>${id} ${x}`, `back>${id} ${y}`, `${id}>right ${100 - x}`, `${id}>front ${60 - y}`)
    const ids = Object.keys(places) as (keyof typeof places)[]
    ids.forEach((p, i) => {
      for (const q of ids.slice(i + 1))
        all.push(`${p}>${q} ${Math.hypot(places[p][0] - places[q][0], places[p][1] - places[q][1])}`)
    })
    return all.map((l) => {
      const [ends, value] = l.split(' ')
      return ends === wrong ? `${ends} ${Number(value) + by}` : l
    })
  }

  it.each(['left>a', 'b>right', 'a>c', 'c>d', 'left>right'])(
    'a slip of 1 mm at %s is the one that is named',
    (wrong) => {
      const f = fitted(lines(wrong, 1), holes)
      const named = f.measures.filter((m) => m.suspect).map((m) => `${m.measure.from}>${m.measure.to}`)
      expect(named).toEqual([wrong])
      expect(f.factor).toBeGreaterThan(1)
      const clean = fitted(lines('', 0), holes)
      expect(clean.measures.some((m) => m.suspect)).toBe(false)
      expect(clean.factor).toBe(1)
      // A third of the uncertainty is no slip.
      expect(fitted(lines(wrong, 0.02), holes).measures.some((m) => m.suspect)).toBe(false)
    },
  )
})

describe('the stated uncertainty', () => {
  it('holds the truth in about 95 of 100 cases, and chi² is as large as it should be', () => {
    const truth = { width: 120, depth: 80, a: [15, 12], b: [104, 14], c: [101, 66], d: [40, 55] } as const
    const ids = ['a', 'b', 'c', 'd'] as const
    const pairs = ids.flatMap((p, i) => ids.slice(i + 1).map((q) => [p, q] as const))
    const trials = 200
    let [inside, all, chi2, freedom] = [0, 0, 0, 0]
    for (let seed = 1; seed <= trials; seed++) {
      const noise = normal(seed)
      // Each measure three times; the readings scatter by 0.05, the instrument is off by 0.02 for each measure.
      const line = (ends: string, v: number) => {
        const off = v + 0.02 * noise()
        return `${ends} ${[0, 1, 2].map(() => off + 0.05 * noise()).join(' ')}`
      }
      const lines = [line('left>right', 120), line('back>front', 80)]
      for (const id of ids) lines.push(line(`left>${id}`, truth[id][0]), line(`${id}>front`, 80 - truth[id][1]))
      for (const [p, q] of pairs)
        lines.push(line(`${p}>${q} centre`, Math.hypot(truth[p][0] - truth[q][0], truth[p][1] - truth[q][1])))
      const near = ids.map((id) => ({ id, diameter: 3, near: truth[id] }))
      const f = fitted(lines, near, { reading: 0.05, instrument: 0.02 })
      const figures = [
        [f.width, 120] as const,
        [f.depth, 80] as const,
        ...ids.flatMap((id) => [[at(f, id).x, truth[id][0]] as const, [at(f, id).y, truth[id][1]] as const]),
      ]
      for (const [figure, value] of figures) {
        all++
        if (Math.abs(figure.value - value) <= 1.96 * figure.u) inside++
      }
      chi2 += f.chi2
      freedom += f.freedom
    }
    // 2000 figures, of which those of one trial hang together: some 0.7 % of standard error; four of them each way.
    expect(inside / all).toBeGreaterThan(0.92)
    expect(inside / all).toBeLessThan(0.98)
    // Mean of chi² = freedom; its standard error over all trials is √(2/freedom) ≈ 3.5 % … five of them.
    expect(freedom).toBe(trials * 6)
    expect(Math.abs(chi2 / freedom - 1)).toBeLessThan(5 * Math.sqrt(2 / freedom))
  })
})

describe('the equations', () => {
  it('have the derivatives that differences give', () => {
    const ends = ['left', 'right', 'back', 'front', 'back-left', 'front-right', 'a', 'b']
    const lines = ends.flatMap((p) =>
      ['a', 'b']
        .filter((q) => q !== p)
        .flatMap((q) =>
          (['a', 'b'].includes(p) ? ['centre', 'inner', 'outer'] : ['centre', 'near', 'far']).map(
            (j) => `${p}>${q} ${j} 1`,
          ),
        ),
    )
    const model = modelOf(
      measures(
        ['left>right 1', 'front>back 1', 'back-left>front-right 1', 'a 1', ...lines],
        [{ id: 'a' }, { id: 'b' }],
      ),
    )
    const value = fc.double({ min: 1, max: 90, noNaN: true })
    fc.assert(
      fc.property(fc.array(value, { minLength: 8, maxLength: 8 }), (x) => {
        const [w, d, ax, ay, , bx, by] = x as [number, number, number, number, number, number, number]
        // Away from where a distance has no derivative: at 0.
        fc.pre(Math.min(Math.hypot(ax - bx, ay - by), Math.hypot(ax - w, ay - d), Math.hypot(bx - w, by - d)) > 0.1)
        for (const e of model.equations) {
          const gradient: number[] = []
          e.at(x, gradient)
          e.on.forEach((p, k) => {
            const h = 1e-5
            const step = (by: number) =>
              e.at(
                x.map((v, i) => (i === p ? v + by : v)),
                [],
              )
            expect(gradient[k]).toBeCloseTo((step(h) - step(-h)) / (2 * h), 4)
          })
        }
      }),
      { numRuns: 30 },
    )
  })
})
