/** The model as an outsider sees it: a validator, a reader written from the specification, and sums worked out here. */
import { validateBytes, validateString } from 'gltf-validator'
import { describe, expect, it } from 'vitest'
import { mm, type Placement, type Problem } from '../../solver/index.ts'
import { gltf, gltfText } from '../../src/export/gltf.ts'
import type { LaidLead } from '../../src/model/index.ts'
import { at, deck, item, part, problem, pt, rect, round, screws } from './decks.ts'
import { boxOfNode, openSides, type ReadNode, readGlb, volumeOf } from './gltf-read.ts'
import { demos } from './picture-demos.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const read = async (p: Problem, placements: readonly Placement[]): Promise<readonly ReadNode[]> =>
  readGlb(await gltf(p, placements)).nodes
const named = (nodes: readonly ReadNode[], name: string): ReadNode => {
  const found = nodes.filter((n) => n.name === name)
  expect(found, name).toHaveLength(1)
  return found[0]!
}

describe('glTF of the demo robots', () => {
  for (const { name, problem: p, placements } of demos()) {
    // written once for all that look at it
    let file: Promise<Uint8Array> | undefined
    const written = () => {
      file ??= gltf(p, placements)
      return file
    }
    let all: readonly ReadNode[] | undefined
    const nodesOf = async () => {
      all ??= readGlb(await written()).nodes
      return all
    }
    // Validator: the Khronos Group's own, run with all its checks.
    it(`${name}: nothing for the validator to say`, async () => {
      const report = await validateBytes(await written())
      expect(report.issues.messages).toEqual([])
      const text = await validateString(await gltfText(p, placements))
      expect(text.issues.messages).toEqual([])
      expect(text.info.totalTriangleCount).toBe(report.info.totalTriangleCount)
    })

    it(`${name}: every body where the layout puts it, to 0.001 mm`, async () => {
      const nodes = await nodesOf()
      for (const place of placements) {
        const { id, footprint: f, stack } = p.items[place.item]!
        const { min, max } = boxOfNode(named(nodes, id))
        const [w, d] = place.turn % 2 === 0 ? [f.width, f.depth] : [f.depth, f.width]
        const foot = (of: Placement): number => {
          const { mount } = p.items[of.item]!.footprint
          const z = p.decks[of.deck]!.z
          if (mount.kind === 'screw') return z + mount.standoff
          if (mount.kind === 'drop-in') return z - mount.below
          if (mount.kind !== 'plug-in') return z
          const host = placements.find((h) => h.item === of.host)!
          return foot(host) + p.items[host.item]!.footprint.height
        }
        const low = foot(place)
        const expected = [place.at.x, place.at.y, low, place.at.x + w, place.at.y + d, low + f.height]
        const found = [...min, ...max]
        for (const [k, v] of expected.entries())
          expect(Math.abs(found[k]! - v / 1000), `${id} ${k}`).toBeLessThan(0.001)
        if (stack > 0) {
          const ghost = named(nodes, `${id} stack`)
          expect(ghost.parent).toBe(id)
          expect(ghost.material.alphaMode).toBe('BLEND')
          const top = boxOfNode(ghost)
          expect(top.min[2]).toBeCloseTo((low + f.height) / 1000, 3)
          expect(top.max[2]).toBeCloseTo((low + f.height + stack) / 1000, 3)
        }
        for (const c of f.corridors) expect(named(nodes, `${id} corridor ${c.id}`).material.alphaMode).toBe('BLEND')
        if (f.head) expect(named(nodes, `${id} sweep`).material.alphaMode).toBe('BLEND')
      }
      expect(nodes.filter((n) => n.name.startsWith('deck '))).toHaveLength(p.decks.length)
    })

    it(`${name}: closed, outward meshes`, async () => {
      for (const node of await nodesOf()) {
        if (node.name.endsWith('free contacts')) continue
        expect(openSides(node.triangles), node.name).toEqual([])
        expect(volumeOf(node), node.name).toBeGreaterThan(0)
      }
    })
  }

  it('draws a wire that has no way in dashes, each of them closed', async () => {
    const { problem: p, placements } = demos()[0]!
    const barred = p.wires.map((_, wire) => ({ wire, by: [] }))
    const nodes = async (laid?: readonly LaidLead[]) =>
      readGlb(await gltf(p, placements, laid ? { laid } : {})).nodes.filter((n) => n.name.startsWith('wire '))
    const [whole, dashes] = [await nodes(), await nodes(barred)]
    expect(whole.length).toBeGreaterThan(5)
    for (const [i, node] of dashes.entries()) {
      expect(openSides(node.triangles), node.name).toEqual([])
      expect(node.triangles.length, node.name).toBeGreaterThan(whole[i]!.triangles.length)
      expect(volumeOf(node), node.name).toBeLessThan(volumeOf(whole[i]!) * 0.8)
      // Its ends are where they were.
      expect(boxOfNode(node).min[2]).toBeCloseTo(boxOfNode(whole[i]!).min[2]!, 6)
    }
  })

  it('gives the same bytes for the same layout', async () => {
    const { problem: p, placements } = demos()[0]!
    expect(await gltf(p, placements)).toEqual(await gltf(p, placements))
  })

  it('leaves away what is not wanted', async () => {
    const { problem: p, placements } = demos()[0]!
    const glb = await gltf(p, placements, { without: ['contacts', 'stack', 'sweep', 'corridor', 'wire'] })
    const names = readGlb(glb).nodes.map((n) => n.name)
    expect(names.sort()).toEqual(
      [...p.decks.map((d) => `deck ${d.id}`), ...placements.map((q) => p.items[q.item]!.id)].sort(),
    )
  })
})

describe('glTF axes', () => {
  // Khronos glTF 2.0 specification, 3.4: metres, right-handed, +y up, +z forward, −x right.
  it('turns right, front and up into −x, +z and +y', async () => {
    const box = item('box', part('box', 10, 20, { kind: 'adhesive' }, { height: mm(30) }))
    const nodes = await read(problem([deck('d', rect(0, 0, 100, 100))], [box]), [at(0, 50, 60)])
    const { world } = named(nodes, 'box')
    const far = (k: number): number[] => [Math.min(...world.map((p) => p[k]!)), Math.max(...world.map((p) => p[k]!))]
    const expected = [-0.06, -0.05, 0.04, 0.07, 0.06, 0.08]
    const found = [...far(0), ...far(1), ...far(2)]
    for (const [k, v] of expected.entries()) expect(found[k]).toBeCloseTo(v, 6)
  })
})

describe('plates', () => {
  const volume = async (p: Problem, placements: readonly Placement[] = []): Promise<number> => {
    const plate = named(await read(p, placements), 'deck d')
    expect(openSides(plate.triangles)).toEqual([])
    return volumeOf(plate)
  }

  it('have the volume of their outline less openings and holes', async () => {
    // By hand: rectangle with corners of radius 8, a slot of two half circles, an exit, an existing and two new holes.
    const slot = {
      kind: 'polygon',
      points: [
        { ...pt(30, 20), bulge: 0 },
        { ...pt(50, 20), bulge: 1 },
        { ...pt(50, 30), bulge: 0 },
        { ...pt(30, 30), bulge: 1 },
      ],
    } as const
    const d = deck('d', rect(0, 0, 120, 80, 8), {
      openings: [{ id: 'slot', shape: slot, mayCover: false }],
      holes: [{ id: 'h', at: pt(100, 60), diameter: mm(6) }],
    })
    const board = item('board', part('board', 30, 20, screws([3, 3, 3.2], [27, 17, 3.2])))
    const p = problem([d], [board], { exits: [{ id: 'e', deck: 0, at: pt(20, 60), diameter: mm(12) }] })
    const disc = (diameter: number): number => (Math.PI * diameter ** 2) / 4
    const area = 120 * 80 - (4 - Math.PI) * 64 - (200 + disc(10)) - disc(12) - disc(6) - 2 * disc(3.2)
    const round_ = Math.PI * (16 + 10 + 12 + 6 + 2 * 3.2)
    expect(Math.abs((await volume(p, [at(0, 70, 20)])) - area * 3)).toBeLessThan(3 * 0.02 * round_)
    // A hole that is there already is not made twice, and one for later not at all.
    const reused = problem([deck('d', d.outline, { holes: [{ id: 'h', at: pt(73, 23), diameter: mm(3.2) }] })], [board])
    const once = 120 * 80 - (4 - Math.PI) * 64 - 2 * disc(3.2)
    expect(Math.abs((await volume(reused, [at(0, 70, 20)])) - once * 3)).toBeLessThan(3 * 0.02 * 80)
    const later = problem([deck('d', rect(0, 0, 120, 80))], [{ ...board, later: true }])
    expect(await volume(later, [at(0, 70, 20)])).toBeCloseTo(120 * 80 * 3, 1)
  })

  it('hold where openings run into one another, lie in one another, or over the edge', async () => {
    const square = (id: string, x: number, y: number, s: number) => ({ id, shape: rect(x, y, s, s), mayCover: false })
    const of = (...openings: ReturnType<typeof square>[]) =>
      volume(problem([deck('d', rect(0, 0, 100, 100), { openings })], []))
    expect(await of(square('a', 10, 10, 20), square('b', 20, 20, 20))).toBeCloseTo(3 * (10_000 - 700), 1)
    expect(await of(square('a', 10, 10, 20), square('b', 15, 15, 5))).toBeCloseTo(3 * (10_000 - 400), 1)
    expect(await of(square('a', 90, 40, 20))).toBeCloseTo(3 * (10_000 - 200), 1)
    expect(await of(square('a', 10, 10, 20), square('b', 30, 10, 20))).toBeCloseTo(3 * (10_000 - 800), 1)
    expect(await of(square('a', 0, 0, 20))).toBeCloseTo(3 * (10_000 - 400), 1)
    expect(await of(square('a', 10, 10, 20), square('b', 10, 10, 20))).toBeCloseTo(3 * (10_000 - 400), 1)
    // Cut in two.
    const shape = rect(40, -10, 20, 120)
    const split = problem([deck('d', rect(0, 0, 100, 100), { openings: [{ id: 'o', shape, mayCover: false }] })], [])
    expect(await volume(split)).toBeCloseTo(3 * 8000, 1)
  })

  it('close over points that lie in line', async () => {
    const openings = [10, 30, 50, 70].flatMap((x) =>
      [10, 30, 50, 70].map((y) => ({ id: `${x} ${y}`, shape: rect(x, y, 10, 10), mayCover: false })),
    )
    const notched = {
      kind: 'polygon',
      points: [
        [0, 0],
        [100, 0],
        [100, 30],
        [90, 30],
        [90, 50],
        [100, 50],
        [100, 90],
        [50, 90],
        [50, 85],
        [0, 85],
        [0, 50],
        [5, 50],
        [5, 30],
        [0, 30],
      ].map(([x, y]) => ({ ...pt(x!, y!), bulge: 0 })),
    } as const
    const p = problem([deck('d', notched, { openings })], [])
    expect(await volume(p)).toBeCloseTo(3 * (50 * 85 + 50 * 90 - 200 - 100 - 1600), 1)
  })

  it('hold for random round and square holes in a grid', async () => {
    let seed = 20_260_101
    const random = (): number => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
      return seed / 2_147_483_648
    }
    for (let run = 0; run < (LONG ? 25 : 12); run++) {
      let area = 160 * 120
      let edges = 0
      const openings = Array.from({ length: 24 }, (_, i) => {
        const [x, y] = [5 + (i % 6) * 25, 5 + Math.floor(i / 6) * 28]
        const size = Math.round(3 + random() * 15)
        if (random() < 0.5) {
          area -= size * size
          return { id: `${i}`, shape: rect(x, y, size, size), mayCover: false }
        }
        area -= (Math.PI * size * size) / 4
        edges += Math.PI * size
        return { id: `${i}`, shape: round(x + size / 2, y + size / 2, size / 2), mayCover: false }
      })
      const found = await volume(problem([deck('d', rect(0, 0, 160, 120), { openings })], []))
      expect(Math.abs(found - 3 * area), `run ${run}`).toBeLessThan(3 * 0.02 * edges + 0.1)
    }
  })
})

describe('plates with openings over one another', () => {
  // Whole millimetres, so the area is the count of the cells that no opening covers.
  it('have the area of what is left', async () => {
    let seed = 99
    const random = (n: number): number => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
      return Math.floor((seed / 2_147_483_648) * n)
    }
    for (let run = 0; run < (LONG ? 600 : 14); run++) {
      const cells = new Uint8Array(60 * 40).fill(1)
      const openings = Array.from({ length: 1 + random(9) }, (_, i) => {
        const [x, y, w, h] = [random(62) - 4, random(42) - 4, 1 + random(16), 1 + random(16)]
        for (let v = Math.max(0, y); v < Math.min(40, y + h); v++)
          for (let u = Math.max(0, x); u < Math.min(60, x + w); u++) cells[v * 60 + u] = 0
        return { id: `${i}`, shape: rect(x, y, w, h), mayCover: false }
      })
      const area = cells.reduce((a, b) => a + b, 0)
      const nodes = await read(problem([deck('d', rect(0, 0, 60, 40), { openings })], []), [])
      const plate = named(nodes, 'deck d')
      expect(Math.abs(volumeOf(plate) - 3 * area), `run ${run}`).toBeLessThan(0.02)
      expect(openSides(plate.triangles), `run ${run}`).toEqual([])
    }
  })
})

describe('plates with round openings over one another', () => {
  // A point is solid when it lies in the rectangle and in no disc; 60 000 points measure the area to about 5 mm².
  it('have the area of what is left', async () => {
    let seed = 5
    const random = (n: number): number => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
      return Math.floor((seed / 2_147_483_648) * n)
    }
    for (let run = 0; run < (LONG ? 400 : 8); run++) {
      const discs = Array.from({ length: 1 + random(8) }, () => [random(61), random(41), 1 + random(10)] as const)
      const openings = discs.map(([x, y, r], i) => ({ id: `${i}`, shape: round(x, y, r), mayCover: false }))
      let solid = 0
      for (let x = 0.1; x < 60; x += 0.2)
        for (let y = 0.1; y < 40; y += 0.2)
          if (discs.every(([cx, cy, r]) => (x - cx) ** 2 + (y - cy) ** 2 > r * r)) solid++
      const plate = named(await read(problem([deck('d', rect(0, 0, 60, 40), { openings })], []), []), 'deck d')
      const chords = 0.02 * 2 * Math.PI * discs.reduce((sum, [, , r]) => sum + r, 0)
      expect(Math.abs(volumeOf(plate) / 3 - solid * 0.04), `run ${run}`).toBeLessThan(5 + chords)
      expect(openSides(plate.triangles), `run ${run}`).toEqual([])
    }
  })
})

describe('what nobody asked for', () => {
  it('stands any id, and parts without a host', async () => {
    const ids = ['皿', '\u0000\ud800', 'x'.repeat(400), '🤖', ' ', '"\\']
    const p = problem(
      [deck('d', rect(0, 0, 100, 60))],
      ids.map((id) => item(id, part(id, 10, 10, { kind: id === ' ' ? 'plug-in' : 'adhesive' }))),
    )
    const glb = await gltf(
      p,
      ids.map((_, i) => at(i, 12 * i, 10)),
    )
    const report = await validateBytes(glb)
    expect(report.issues.messages).toEqual([])
    expect(readGlb(glb).nodes).toHaveLength(7)
  })

  it('stands an empty layout', async () => {
    const report = await validateBytes(await gltf(problem([deck('d', rect(0, 0, 100, 60))], []), []))
    expect(report.issues.messages).toEqual([])
  })
})

describe('sweeps', () => {
  it('have the volume of sector and tail together', async () => {
    const head = {
      pivot: pt(20, 10),
      pan: [-60, 90] as const,
      reach: mm(70),
      tail: mm(18),
      z: [mm(10), mm(60)] as const,
    }
    const f = part('head', 40, 30, { kind: 'adhesive' }, { kind: 'head', head })
    const [node] = (await read(problem([deck('d', rect(0, 0, 300, 300))], [item('eye', f)]), [at(0, 100, 100)])).filter(
      (n) => n.name === 'eye sweep',
    )
    const share = 150 / 360
    const area = Math.PI * (share * 70 ** 2 + (1 - share) * 18 ** 2)
    expect(openSides(node!.triangles)).toEqual([])
    expect(Math.abs(volumeOf(node!) - 50 * area)).toBeLessThan(50 * 0.02 * Math.PI * 2 * 70)
    const { min, max } = boxOfNode(node!)
    // Straight ahead (pan 0) lies in the range, so the front reaches a full 70 mm; 90° to the left too.
    expect(max[1]).toBeCloseTo(180, 1)
    expect(min[0]).toBeCloseTo(50, 1)
    expect(max[0]).toBeCloseTo(120 + 70 * Math.sin(Math.PI / 3), 1)
    expect([min[2], max[2]]).toEqual([expect.closeTo(50, 3), expect.closeTo(100, 3)])
  })
})
