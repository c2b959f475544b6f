/** Fuses and switches wherever they stand, each against what flows through it. Currents by hand beside each. */
import { describe, expect, it } from 'vitest'
import { type Asked, seen } from './power-kit.ts'

const fuse = (rating?: number) => ({ part: 'fuse', ...(rating === undefined ? {} : { rating }) })
const pack = (more: object = {}) => ({ supply: { cells: 4, volts: 1.5, ohms: 0.01, switched: true, ...more } })
const lamp = (running: number, stall = running) => ({ load: { running, stall } })
const texts = (s: ReturnType<typeof seen>) =>
  s.findings.filter((f) => f.topic === 'protection').map((f) => `${f.weight}: ${f.text}`)

/** A row of parts 40 mm apart, each led to the next, in thick wire. */
const row = (parts: Record<string, object>, order = Object.keys(parts)): Asked => ({
  parts: Object.fromEntries(order.map((id) => [id, [parts[id]!, [40 * Object.keys(parts).indexOf(id), 0]]])),
  wires: Object.keys(parts)
    .slice(1)
    .map((id, i) => [Object.keys(parts)[i]!, id, 'pack', { gauge: 12 }]),
})

describe('a fuse', () => {
  it('blows by what flows through it, in whatever order parts are listed', () => {
    // 2 A flow through both: less than 5, more than 1
    const parts = { pack: pack(), f5: fuse(5), f1: fuse(1), lamp: lamp(2) }
    const blown = ['stops: 2 A run through the fuse f1; it is for 1 A and would blow.']
    expect(texts(seen(row(parts)))).toEqual(blown)
    expect(texts(seen(row(parts, ['f1', 'lamp', 'pack', 'f5'])))).toEqual(blown)
    expect(texts(seen(row({ pack: pack(), f1: fuse(1), f5: fuse(5), lamp: lamp(2) })))).toEqual(blown)
    // exactly as much as it lets through, it holds
    expect(texts(seen(row({ ...parts, f1: fuse(2) })))).toEqual([])
  })

  it('in the pack hides none outside, nor the other way round', () => {
    const both = (own: number, outer: number) =>
      texts(seen(row({ pack: pack({ fuse: own }), f: fuse(outer), lamp: lamp(2) })))
    expect(both(5, 1)).toEqual(['stops: 2 A run through the fuse f; it is for 1 A and would blow.'])
    expect(both(1, 5)).toEqual(['stops: 2 A are drawn from pack; its fuse of 1 A would blow.'])
  })

  it('in a branch is held against the current of that branch', () => {
    const branch = (rating: number) =>
      texts(
        seen({
          parts: {
            pack: [pack(), [0, 0]],
            main: [fuse(5), [40, 0]],
            side: [fuse(rating), [80, 0]],
            lamp: [lamp(2), [120, 0]],
            horn: [lamp(1.5), [40, 40]],
          },
          wires: [
            ['pack', 'main', 'pack', { gauge: 12 }],
            ['main', 'side', 'pack', { gauge: 12 }],
            ['side', 'lamp', 'pack', { gauge: 12 }],
            ['main', 'horn', 'pack', { gauge: 12 }],
          ],
        }),
      )
    expect(branch(2)).toEqual([])
    expect(branch(1)).toEqual(['stops: 2 A run through the fuse side; it is for 1 A and would blow.'])
  })

  it('shares with one beside it what flows through both', () => {
    // two equal ways from pack to lamp: 1 A of 2 through each
    const beside = (rating: number) =>
      texts(
        seen({
          parts: {
            pack: [pack({ fuse: 3 }), [0, 40]],
            one: [fuse(rating), [40, 0]],
            two: [fuse(rating), [40, 80]],
            lamp: [lamp(2), [80, 40]],
          },
          wires: (['one', 'two'] as const).flatMap(
            (f) =>
              [
                ['pack', f, 'pack', { gauge: 12 }],
                [f, 'lamp', 'pack', { gauge: 12 }],
              ] as const,
          ),
        }),
      )
    expect(beside(1)).toEqual([])
    expect(beside(0.9)).toHaveLength(2)
  })

  it('behind a regulator is held against what that gives', () => {
    const s = (rating: number) =>
      texts(
        seen({
          parts: {
            pack: [pack({ fuse: 3 }), [0, 0]],
            reg: [{ part: 'regulator', output: { volts: 5 } }, [40, 0]],
            f: [fuse(rating), [80, 0]],
            lamp: [lamp(1), [120, 0]],
          },
          wires: [
            ['pack', 'reg', 'pack', { gauge: 12 }],
            ['reg', 'f', 'reg', { gauge: 12 }],
            ['f', 'lamp', 'reg', { gauge: 12 }],
          ],
        }),
      )
    expect(s(1)).toEqual([])
    expect(s(0.5)).toEqual(['stops: 1 A run through the fuse f; it is for 0.5 A and would blow.'])
  })

  it('guards the leads behind it; a thin one is held against the smallest of those', () => {
    // 24 AWG: 0.2047 mm² (ASTM B258) · 6 A/mm² = 1.23 A
    const thin = (main: number, side: number) =>
      texts(
        seen({
          parts: {
            pack: [pack(), [0, 0]],
            main: [fuse(main), [40, 0]],
            side: [fuse(side), [80, 0]],
            lamp: [lamp(0.5), [120, 0]],
            horn: [lamp(0.5), [40, 40]],
          },
          wires: [
            ['pack', 'main', 'pack', { gauge: 12 }],
            ['main', 'side', 'pack', { gauge: 12 }],
            ['side', 'lamp', 'pack', { gauge: 24, path: 'out' }],
            // 1 A at most comes back through it as well
            ['lamp', 'main', 'pack', { gauge: 24, path: 'back' }],
            ['main', 'horn', 'pack', { gauge: 12 }],
          ],
        }),
      )
    expect(thin(5, 1)).toEqual([])
    expect(thin(5, 2)).toEqual([
      'worth-knowing: The fuse side lets 2 A through; the lead side-lamp of 24 AWG is good for 1.23 A.',
    ])
    expect(thin(1, 2)).toEqual([])
  })
})

describe('a common way back', () => {
  // 22 AWG: 0.3255 mm² (ASTM B258) · 6 A/mm² = 1.95 A
  const told = (own: number, one: number, two: number, more: Asked['wires'] = []) =>
    texts(
      seen({
        parts: {
          pack: [pack({ fuse: own }), [0, 0]],
          one: [fuse(one), [40, 0]],
          two: [fuse(two), [40, 40]],
          lamp: [lamp(0.4), [80, 0]],
          horn: [lamp(0.4), [80, 40]],
          block: [{}, [60, 80]],
        },
        wires: [
          ...(['pack one', 'pack two', 'one lamp', 'two horn'] as const).map((w) => {
            const [a, b] = w.split(' ') as [string, string]
            return [a, b, 'pack', { gauge: 12, path: 'out' }] as const
          }),
          ['lamp', 'block', 'pack', { gauge: 12, path: 'back' }],
          ['horn', 'block', 'pack', { gauge: 12, path: 'back' }],
          ['block', 'pack', 'pack', { gauge: 22, path: 'back' }],
          ...more,
        ],
      }),
    )

  it('is held against the fuses of its branches together, or one before them that lets less through', () => {
    expect(told(5, 1, 1.5)).toEqual([
      'worth-knowing: The fuses one and two together let 2.5 A through to what comes back by the lead block-pack; that is of 22 AWG, good for 1.95 A.',
    ])
    expect(told(5, 0.5, 1)).toEqual([])
    expect(told(1.9, 1, 1.5)).toEqual([])
    expect(told(2, 1, 1.5)).toEqual([
      'worth-knowing: The fuse of pack lets 2 A through; the lead block-pack of 22 AWG is good for 1.95 A.',
    ])
  })

  it('is not what one of them comes back by beside it', () => {
    expect(told(5, 1, 1.5, [['horn', 'pack', 'pack', { gauge: 12, path: 'back' }]])).toEqual([])
  })
})

describe('a switch', () => {
  it('may carry as much as it says', () => {
    const s = (rating: number) =>
      texts(seen(row({ pack: pack({ fuse: 9 }), sw: { part: 'switch', rating }, lamp: lamp(2, 3) })))
    expect(s(3)).toEqual([])
    expect(s(2.5)).toEqual(['worth-knowing: 3 A run through the switch sw while motors stall; it may carry 2.5 A.'])
    expect(s(0.5)).toEqual(['stops: 2 A run through the switch sw; it may carry 0.5 A.'])
  })

  it('in the lead back carries what comes back', () => {
    const s = texts(
      seen({
        parts: {
          pack: [pack({ fuse: 3 }), [0, 0]],
          sw: [{ part: 'switch', rating: 1 }, [40, 40]],
          lamp: [lamp(2), [80, 0]],
        },
        wires: [
          ['pack', 'lamp', 'pack', { gauge: 12, path: 'out' }],
          ['lamp', 'sw', 'pack', { gauge: 12, path: 'back' }],
          ['sw', 'pack', 'pack', { gauge: 12, path: 'back' }],
        ],
      }),
    )
    expect(s).toContain('stops: 2 A run through the switch sw; it may carry 1 A.')
  })
})

/** Two packs, a lamp each, and one way back through a part that both share. */
const shared = (part: object) => {
  const lead = (from: string, to: string, pack: string, path: string) =>
    [from, to, pack, { gauge: 12, path }] as [string, string, string, object]
  return texts(
    seen({
      parts: {
        one: [pack({ fuse: 5 }), [0, 0]],
        two: [pack({ fuse: 5 }), [0, 80]],
        a: [lamp(2), [40, 0]],
        b: [lamp(2), [40, 80]],
        both: [part, [0, 40]],
      },
      wires: [
        lead('one', 'a', 'one', 'out'),
        lead('a', 'both', 'one', 'back'),
        lead('both', 'one', 'one', 'back'),
        lead('two', 'b', 'two', 'out'),
        lead('b', 'both', 'two', 'back'),
        lead('both', 'two', 'two', 'back'),
      ],
    }),
  )
}

describe('what two supplies share', () => {
  it('carries what both give, and is told once', () => {
    // 2 A from each
    expect(shared({ part: 'switch', rating: 3 })).toEqual(['stops: 4 A run through the switch both; it may carry 3 A.'])
    expect(shared(fuse(3))).toEqual(['stops: 4 A run through the fuse both; it is for 3 A and would blow.'])
    for (const kind of ['switch', 'fuse']) expect(shared({ part: kind, rating: 4 })).toEqual([])
  })
})

describe('everything is behind a fuse', () => {
  const wide = { gauge: 12 }
  const none =
    'stops: pack has no fuse that everything is behind. A short circuit of its leads can start a fire: fuse it near its plus lead.'

  it('only where nothing that may draw is led to around it, whether or not it says how much', () => {
    const plus = (kind: string) => ({ terminals: [{ id: 't', at: [0, 0], kind }] })
    const beside = (more: object) =>
      texts(
        seen({
          parts: { pack: [pack(), [0, 0]], f: [fuse(3), [40, 0]], other: [{}, [0, 40], more] },
          wires: [
            ['pack', 'f', 'pack', wide],
            ['pack', 'other', 'pack', wide],
          ],
        }),
      )
    expect(beside(plus('supply-in'))).toEqual([none])
    // a screw that only joins leads draws nothing
    expect(beside(plus('passive'))).toEqual([])
  })

  it('and no exit', () => {
    const around = (from: string) =>
      texts(
        seen({
          parts: { pack: [pack(), [0, 0]], f: [fuse(3), [40, 0]], lamp: [lamp(1), [80, 0]] },
          exits: { motor: [undefined as never, [0, 40]] },
          wires: [
            ['pack', 'f', 'pack', wide],
            ['f', 'lamp', 'pack', wide],
            [from, 'motor', 'pack', wide],
          ],
        }),
      )
    expect(around('pack')).toEqual([none])
    expect(around('f')).toEqual([])
  })
})
