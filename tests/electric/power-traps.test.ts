/** What power is easily reckoned wrong by: two single wires, more than the cells have, the two supplies of a driver. Values by hand beside each. */
import { describe, expect, it } from 'vitest'
import { type Asked, PACK, seen } from './power-kit.ts'

describe('volts at a load', () => {
  it('are the same again with two single wires that say nothing, where one ends on a return', () => {
    const ends = (plus: object) => ({
      terminals: [
        { id: 't', at: [0, 0], ...plus },
        { id: 'minus', at: [0, 0], kind: 'return' },
      ],
    })
    const run = (wires: Asked['wires'], back: readonly (readonly [string, string])[] = []) => {
      const parts: Asked['parts'] = {
        pack: [PACK, [0, 0], ends({ kind: 'supply-out' })],
        lamp: [{ load: { running: 1 } }, [500, 0], ends({ kind: 'supply-in' })],
      }
      const minus = (item: string) => ({ item, terminal: 'minus' })
      return seen({
        parts,
        wires: [
          ...wires,
          ...back.map(
            ([a, b]) => [a, b, 'pack', { id: 'minus', conductors: 1, from: minus(a), to: minus(b) }] as const,
          ),
        ],
      })
    }
    const pair = run([['pack', 'lamp', 'pack']])
    const single = run([['pack', 'lamp', 'pack', { conductors: 1 }]], [['pack', 'lamp']])
    const volts = (s: typeof pair) => s.supplies[0]!.states.running.loads[0]!.volts
    // taken for two pairs side by side they would lose 26.48 mV
    expect(5.4 - volts(single)).toBeCloseTo(0.052_96, 5)
    expect(volts(single)).toBeCloseTo(volts(pair), 9)
    expect(single.supplies[0]!.states.running.leads.map((l) => l.amps)).toEqual([1, 1])
    expect(single.findings).toEqual([])
    // one wire alone, as many files have it, still stands for out and back
    const alone = run([['pack', 'lamp', 'pack', { conductors: 1 }]])
    expect(volts(alone)).toBeCloseTo(volts(pair), 9)
  })

  it('are never less than none, however much is asked of the cells', () => {
    const s = seen({
      parts: { pack: [PACK, [0, 0]], winch: [{ load: { running: 1, stall: 40, min: 3 } }, [100, 0]] },
      wires: [['pack', 'winch', 'pack', { gauge: 8 }]],
    })
    // 40 A on 0.6 ohms would leave 18 V less than nothing
    expect(s.supplies[0]!.states.stall).toMatchObject({ volts: 0, loads: [{ volts: 0 }] })
    expect(s.findings.map((f) => f.text)).toContain(
      'winch gets 0 V from pack when winch stalls, as at every start; it needs 3 V, and may start again by itself.',
    )
  })

  it('at the motor side of a driver are held against that side, not against its logic', () => {
    const driver = {
      terminals: [
        { id: 't', at: [0, 0], kind: 'supply-in', volts: [4.5, 12] },
        { id: 'logic', at: [0, 0], kind: 'logic-in', volts: [3, 5.5] },
      ],
    }
    const run = (cells: number) =>
      seen({
        parts: {
          pack: [{ supply: { ...PACK.supply, cells } }, [0, 0]],
          driver: [{ part: 'driver', load: { running: 0.01, min: 3, max: 5.5 } }, [100, 0], driver],
        },
        wires: [['pack', 'driver', 'pack']],
      }).findings.map((f) => f.text)
    expect(run(5)).toEqual([])
    // its logic by a lead of its own: the motors' side browns out all the same
    const both = seen({
      parts: {
        pack: [PACK, [0, 0]],
        fives: [{ supply: { cells: 4, volts: 1.25, fuse: 1, switched: true } }, [0, 50]],
        driver: [{ part: 'driver', load: { running: 0.01, min: 3, max: 5.5 } }, [100, 0], driver],
      },
      exits: { motor: [{ running: 0.5, stall: 3 }, [200, 0]] },
      wires: [
        ['pack', 'driver', 'pack', { gauge: 16 }],
        ['driver', 'motor', 'pack', { gauge: 16 }],
        ['fives', 'driver', 'fives', { to: { item: 'driver', terminal: 'logic' } }],
      ],
    })
    // 6 V less 3 A on 0.6 ohms, less the leads
    expect(both.findings.map((f) => f.text)).toEqual([
      expect.stringMatching(/^driver gets 4\.1\d* V from pack when motor stalls, as at every start; it needs 4\.5 V/),
    ])
    const amps = (name: string) => both.supplies.find((s) => s.supply === name)!.states.running.amps
    expect([amps('pack'), amps('fives')]).toEqual([0.5, 0.01])
    expect(run(9)).toEqual([expect.stringMatching(/^driver gets 13.* V from pack; it stands 12 V\.$/)])
    expect(run(2)).toEqual([expect.stringMatching(/^driver gets .* V from pack; it needs 4\.5 V\.$/)])
  })
})
