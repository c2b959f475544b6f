/** An arm in a head's place: its reach is a sweep that layouts keep free, and what reaches into it is reported as with a head. */
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check, type Problem } from '../../solver/index.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { headReports } from '../../src/statics/index.ts'
import { box, placed } from './kit.ts'

const library = loadLibrary()

function robot(height: number, arm: object = {}): Problem {
  const project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'arm in front',
    decks: [{ id: 'd', z: 60, thickness: 3, outline: { rect: [0, 0, 300, 300] } }],
    footprints: [box('post', 20, 20, height)],
    items: [
      { id: 'arm', footprint: 'arm-reaching', ...arm },
      { id: 'post', footprint: 'post' },
    ],
  }
  const read = readProject(JSON.stringify(project), 'arm', library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toProblem(read.value, 'base', library)
}

// the arm's pivot is at (128, 78); straight ahead of it stands the post, from 50 to 70 mm away
const at = (p: Problem) => placed(p, { arm: ['d', 100, 50], post: ['d', 118, 128] })

describe('an arm in a head’s place', () => {
  it('keeps its reach free, and lets pass what stays under it', () => {
    const rules = (p: Problem) => check(p, at(p)).map((f) => f.rule)
    expect(rules(robot(60))).toEqual(['R9'])
    expect(rules(robot(29))).toEqual([])
    expect(rules(robot(60, { later: true }))).toEqual(['R9'])
  })

  it('is reported with its reach, what stands in its way, and the angles that are left', () => {
    const p = robot(60)
    const [report] = headReports(p, at(p))
    expect(report!.item).toBe('arm')
    expect(report!.swept.reach).toBeGreaterThan(140)
    expect(report!.hits.map((h) => [h.id, h.parts])).toEqual([['post', ['forearm']]])
    // by hand: straight ahead is shut, and as much to the left as to the right
    const [left, right] = report!.freePan
    expect(report!.freePan).toHaveLength(2)
    expect(left![0]).toBe(-80)
    expect(right![1]).toBe(80)
    expect(left![1]).toBeCloseTo(-right![0], 9)
    // a post 20 wide at 50 ahead and an arm 28 wide: asin(14 ÷ r) + atan(10 ÷ 50), r = √(50² + 10²)
    const r = Math.hypot(50, 10)
    expect(right![0]).toBeCloseTo(((Math.asin(14 / r) + Math.atan2(10, 50)) * 180) / Math.PI, 6)
    expect(report!.findings.map((f) => f.kind)).toContain('head-blocked')
  })
})
