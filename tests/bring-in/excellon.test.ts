import { describe, expect, it } from 'vitest'
import { Findings } from '../../src/bring-in/board-findings.ts'
import { readExcellon } from '../../src/bring-in/excellon.ts'
import type { DrillAnswers } from '../../src/bring-in/excellon-number.ts'
import fc from '../seeded.ts'

function read(lines: readonly string[], answers: DrillAnswers = {}, name = 'a.drl') {
  const findings = new Findings(name)
  const drill = readExcellon({ name, text: lines.join('\n') }, answers, findings)
  const holes = drill?.holes.map((h) => [round(h.at.x), round(h.at.y), round(h.diameter)])
  return { drill, holes, findings, problems: findings.problems }
}
const round = (v: number) => Math.round(v * 1e6) / 1e6 + 0

describe('coordinates of drill files', () => {
  it('with no zeros left out are read by the digits alone', () => {
    // A public guide to recognising drill files gives this file: M71, six digits each, "the correct format is 3.3" (read).
    const known = read(['M71', '%', 'G05', 'T001C0.050', 'X018600Y016200', 'X018600Y020200', 'M00'])
    expect(known.holes).toEqual([
      [18.6, 16.2, 0.05],
      [18.6, 20.2, 0.05],
    ])
    expect(known.findings.assumptions).toEqual([expect.stringContaining('000.000 mm')])
  })

  it('mean the same with leading zeros, with trailing zeros, with a point, and after each other', () => {
    fc.assert(
      fc.property(fc.integer({ min: -999_999, max: 999_999 }), fc.constantFrom('METRIC', 'INCH'), (value, unit) => {
        const part = unit === 'METRIC' ? 3 : 4
        const sign = value < 0 ? '-' : ''
        const full = String(Math.abs(value)).padStart(6, '0')
        const write = (zeros: string, x: string) =>
          read(['M48', `${unit},${zeros}`, 'T1C1.0', '%', 'T1', `X${sign}${x}Y0`, 'M30']).holes
        const expected = [
          [round((value / 10 ** part) * (unit === 'METRIC' ? 1 : 25.4)), 0, unit === 'METRIC' ? 1 : 25.4],
        ]
        expect(write('LZ', full.replace(/0+$/, '') || '0')).toEqual(expected)
        expect(write('TZ', full.replace(/^0+/, '') || '0')).toEqual(expected)
        expect(
          write(
            'TZ',
            `${Math.abs(value) / 10 ** part}`.includes('e') ? full : (Math.abs(value) / 10 ** part).toFixed(part),
          ),
        ).toEqual(expected)
      }),
      { numRuns: 100 },
    )
  })

  it('follow a mask, a comment, or what the user says', () => {
    const file = (head: string, ...more: string[]) => ['M48', ...more, head, 'T1C1.0', '%', 'T1', 'X00123400Y0', 'M30']
    expect(read(file('METRIC,TZ,0000.0000')).holes).toEqual([[12.34, 0, 1]])
    expect(read(file('METRIC,TZ', ';FILE_FORMAT=4:4')).holes).toEqual([[12.34, 0, 1]])
    expect(read(file('METRIC,TZ'), { digits: [4, 4] }).holes).toEqual([[12.34, 0, 1]])
    expect(read(file('METRIC,TZ')).problems).toMatchObject([{ path: 'digits' }])
  })

  it('stay where an axis is missing, and add up where they are incremental', () => {
    const moves = ['X1.0Y2.0', 'X3.0', 'Y5.0']
    expect(read(['M48', 'METRIC', 'T1C1', '%', 'T1', ...moves, 'M30']).holes).toEqual([
      [1, 2, 1],
      [3, 2, 1],
      [3, 5, 1],
    ])
    expect(read(['M48', 'METRIC', 'ICI,ON', 'T1C1', '%', 'T1', ...moves, 'M30']).holes).toEqual([
      [1, 2, 1],
      [4, 2, 1],
      [4, 7, 1],
    ])
  })
})

describe('what else stands in drill files', () => {
  const head = ['M48', 'METRIC', 'T1F200S65C1.0', 'T2C2.5', '%']

  it('slots have two ends, with and without a beginning of their own', () => {
    const { drill } = read([...head, 'T2', 'X1.0Y1.0G85X4.0Y1.0', 'G85X4.0Y3.0', 'M30'])
    expect(drill?.slots.map((s) => [s.at, s.to, s.diameter])).toEqual([
      [{ x: 1, y: 1 }, { x: 4, y: 1 }, 2.5],
      [{ x: 4, y: 1 }, { x: 4, y: 3 }, 2.5],
    ])
    expect(drill?.holes).toEqual([])
  })

  it('repeats go on from the last hole, along both axes', () => {
    expect(read([...head, 'T1', 'X10.0Y10.0', 'R2X2.54Y-1.0', 'Y0.0', 'M30']).holes).toEqual([
      [10, 10, 1],
      [12.54, 9, 1],
      [15.08, 8, 1],
      [15.08, 0, 1],
    ])
    expect(read([...head, 'T1', 'X1.0Y1.0', 'R999999999X1.0', 'M30']).problems).toMatchObject([{ path: 'R' }])
  })

  it('routing makes no holes and is listed; drilling goes on after it', () => {
    const route = ['T1', 'G00X0.0Y0.0', 'M15', 'G01X5.0Y0.0', 'G02X5.0Y5.0A2.5', 'M16', 'G05', 'X9.0Y9.0', 'M30']
    const { holes, findings } = read([...head, ...route])
    expect(holes).toEqual([[9, 9, 1]])
    expect(findings.unused()).toEqual(['a.drl:9: routed strokes of tool T1, 1 mm wide (2 times)'])
  })

  it('plating is told by file, by tool, by comment and last by name', () => {
    const tools = [
      '; #@! TA.AperFunction,Plated,PTH,ComponentDrill',
      'T1C1.0',
      '; #@! TA.AperFunction,NonPlated,NPTH,ComponentDrill',
      'T2C2.0',
    ]
    const body = ['%', 'T1', 'X1.0Y1.0', 'T2', 'X2.0Y2.0', 'M30']
    const plating = (lines: string[], name?: string) => read(lines, {}, name).drill?.holes.map((h) => h.plated)
    expect(plating(['M48', '; #@! TF.FileFunction,MixedPlating,1,2', 'METRIC', ...tools, ...body])).toEqual([
      true,
      false,
    ])
    // What is deleted says nothing any more; then the file's own word, or its name, counts.
    const deleting = (deleted: string, file: string[], name?: string) =>
      plating(['M48', ...file, 'METRIC', tools[2]!, 'T1C1.0', deleted, 'T2C2.0', ...body], name)
    const mixed = ['; #@! TF.FileFunction,MixedPlating,1,2']
    expect(deleting('; #@! TD', mixed)).toEqual([false, undefined])
    expect(deleting('; #@! TD.AperFunction', mixed)).toEqual([false, undefined])
    expect(deleting('; #@! TD.DrillTolerance', mixed)).toEqual([false, false])
    expect(deleting('; #@! TD', [], 'b2-PTH.drl')).toEqual([false, true])
    // No deleting reaches what the file says of itself.
    expect(deleting('; #@! TD', ['; #@! TF.FileFunction,Plated,1,2,PTH'])).toEqual([false, true])
    // An attribute holds for every tool that follows, in the header and after it, until it is deleted.
    const late = ['%', tools[2]!, 'T1C1.0', 'X1.0Y1.0', 'T2C2.0', 'X2.0Y2.0', '; #@! TD', 'T3C3.0', 'X3.0Y3.0', 'M30']
    expect(plating(['M48', 'METRIC', ...late])).toEqual([false, false, undefined])
    const plain = ['METRIC', 'T1C1.0', 'T2C2.0', ...body]
    expect(plating(['M48', ';TYPE=NON_PLATED', ...plain])).toEqual([false, false])
    expect(plating(['M48', '; #@! TF.FileFunction,Plated,1,2,PTH', ...plain], 'x-npth.drl')).toEqual([true, true])
    expect(plating(['M48', ...plain])).toEqual([undefined, undefined])
    expect(plating(['M48', ...plain], 'x-NPTH.drl')).toEqual([false, false])
    expect(plating(['M48', ...plain], 'x_non-plated.drl')).toEqual([false, false])
    // A word inside another one says nothing.
    expect(plating(['M48', ...plain], 'depth.drl')).toEqual([undefined, undefined])
  })
})
