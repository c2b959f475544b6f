/**
 * DXF to runs. Model space only, seen from above. Blocks are put in where they are inserted, with scale, turn and rows.
 *
 * Group codes as the format's published reference lists them (from memory where no test reads them from a written file).
 */
import { clip, snippet } from '../../footprints/problems.ts'
import { type Draft, Refused, type Where } from './contours.ts'
import { drawCurve } from './dxf-curves.ts'
import { type DxfFile, type Entity, first, numberOf, textOf } from './dxf-groups.ts'
import { drawPolyline } from './dxf-polylines.ts'
import { after, type Matrix } from './flatten.ts'
import { DXF_UNITS } from './units.ts'
import { dxf } from './words-drawings.ts'

const DEEPEST_BLOCK = 32

/** mm in one drawing unit, where the header says so; `said`: what stands there when it says nothing usable. */
export function dxfUnit(file: DxfFile): { name: string; mm: number } | { said: string } {
  const group = file.header.get('$INSUNITS')?.find((g) => g.code === 70)
  if (!group) return { said: dxf.unitMissing }
  const n = numberOf(group, '$INSUNITS')
  return DXF_UNITS.get(n) ?? { said: n === 0 ? dxf.unitNone : `$INSUNITS ${n}` }
}

interface Context {
  readonly file: DxfFile
  readonly draft: Draft
  /** Layers that are switched off or frozen, in capitals. */
  readonly hidden: ReadonlySet<string>
}

/** Draws all entities of model space. `scale`: mm in one drawing unit. Throws Refused. */
export function drawDxf(file: DxfFile, draft: Draft, scale: number): undefined {
  const hidden = new Set(
    file.layers
      .filter((l) => first(l, 62, 7) < 0 || (first(l, 70, 0) & 1) !== 0)
      .map((l) => (textOf(l, 2) ?? '').toUpperCase()),
  )
  for (const l of file.layers) draft.named.add(textOf(l, 2) ?? '0')
  drawAll({ file, draft, hidden }, file.entities, [scale, 0, 0, scale, 0, 0], [], undefined)
}

/** What belongs to a POLYLINE or an INSERT with attributes: everything up to SEQEND. */
function drawAll(
  c: Context,
  entities: readonly Entity[],
  matrix: Matrix,
  inside: readonly string[],
  layerOfInsert: string | undefined,
): undefined {
  for (let i = 0; i < entities.length; i++) {
    const e = entities[i]!
    const parts: Entity[] = []
    const follows = e.type === 'POLYLINE' || (e.type === 'INSERT' && first(e, 66, 0) === 1)
    if (follows) {
      while (i + 1 < entities.length && ['VERTEX', 'ATTRIB'].includes(entities[i + 1]!.type)) parts.push(entities[++i]!)
      if (entities[i + 1]?.type === 'SEQEND') i += 1
      else throw new Refused(dxf.withoutEnd(e.type), dxf.sequenceEnd, e.line)
    }
    c.draft.step(inside.length > 0)
    draw(c, e, parts, matrix, inside, layerOfInsert)
  }
}

function draw(
  c: Context,
  e: Entity,
  parts: readonly Entity[],
  matrix: Matrix,
  inside: readonly string[],
  layerOfInsert: string | undefined,
): undefined {
  const own = textOf(e, 8) ?? '0'
  // What a block has on layer 0 is on the layer of its insert.
  const layer = own === '0' && layerOfInsert !== undefined ? layerOfInsert : own
  const where: Where = { line: e.line, what: e.type, layers: [layer] }
  c.draft.named.add(layer)
  const { draft } = c
  if (first(e, 67, 0) === 1) return draft.cannot(where, dxf.paperSpace)
  if (first(e, 60, 0) === 1) return draft.cannot(where, dxf.invisible)
  if (c.hidden.has(layer.toUpperCase())) return draft.cannot(where, dxf.layerOff)
  const seen = fromAbove(e, where, draft, matrix)
  if (!seen) return
  switch (e.type) {
    case 'LINE':
    case 'CIRCLE':
    case 'ARC':
    case 'ELLIPSE':
    case 'SPLINE':
      return drawCurve(e, draft, seen, where)
    case 'LWPOLYLINE':
    case 'POLYLINE':
      return drawPolyline(e, parts, draft, seen, where)
    case 'INSERT':
      for (const a of parts) draft.cannot({ line: a.line, what: a.type, layers: [layer] }, dxf.text)
      return insert(c, e, seen, inside, layer, where)
    default:
      return draft.cannot(where, WHY.get(e.type) ?? dxf.notRead)
  }
}

const WHY: ReadonlyMap<string, string> = new Map([
  ...['TEXT', 'MTEXT', 'ATTDEF', 'ATTRIB'].map((t) => [t, dxf.text] as const),
  ...['DIMENSION', 'LEADER', 'MLEADER', 'TOLERANCE'].map((t) => [t, dxf.measure] as const),
  ['HATCH', dxf.hatch],
  ['POINT', dxf.point],
  ...['XLINE', 'RAY'].map((t) => [t, dxf.endless] as const),
  ...['3DFACE', '3DSOLID', 'BODY', 'REGION', 'MESH', 'SURFACE'].map((t) => [t, dxf.solid] as const),
  ...['VIEWPORT', 'IMAGE', 'WIPEOUT'].map((t) => [t, dxf.picture] as const),
])

/** Entities that stand in their own frame, which an extrusion direction may turn over. */
const OWN_FRAME = new Set(['CIRCLE', 'ARC', 'LWPOLYLINE', 'POLYLINE', 'INSERT'])

/** The matrix for an entity whose extrusion direction is up, or down: then its own x runs the other way. Others are listed. */
function fromAbove(e: Entity, where: Where, draft: Draft, matrix: Matrix): Matrix | undefined {
  if (!e.groups.some((g) => g.code === 230 || g.code === 210 || g.code === 220)) return matrix
  const [x, y, z] = [first(e, 210, 0), first(e, 220, 0), first(e, 230, 1)]
  const long = Math.hypot(x, y, z)
  if (long > 0 && Math.hypot(x, y) <= 1e-9 * long) {
    return z < 0 && OWN_FRAME.has(e.type) ? after(matrix, [-1, 0, 0, 1, 0, 0]) : matrix
  }
  draft.cannot(where, dxf.tilted)
  return undefined
}

function insert(
  c: Context,
  e: Entity,
  matrix: Matrix,
  inside: readonly string[],
  layer: string,
  where: Where,
): undefined {
  const name = textOf(e, 2) ?? ''
  const key = name.toUpperCase()
  const block = c.file.blocks.get(key)
  if (!block) return c.draft.cannot(where, dxf.noBlock(snippet(name)))
  if (inside.includes(key)) {
    throw new Refused(dxf.blockInItself(clip(name, 60)), dxf.endingBlocks, e.line)
  }
  if (inside.length >= DEEPEST_BLOCK) {
    throw new Refused(dxf.deep(inside.length + 1), dxf.atMost(DEEPEST_BLOCK), e.line)
  }
  const turn = (first(e, 50, 0) * Math.PI) / 180
  const [sx, sy] = [first(e, 41, 1), first(e, 42, 1)]
  if (sx === 0 || sy === 0) return c.draft.cannot(where, dxf.noScale)
  const [cos, sin] = [exact(Math.cos(turn)), exact(Math.sin(turn))]
  const [columns, rows] = [Math.max(1, first(e, 70, 1)), Math.max(1, first(e, 71, 1))]
  const [dx, dy] = [first(e, 44, 0), first(e, 45, 0)]
  const [bx, by] = [first(block.head, 10, 0), first(block.head, 20, 0)]
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      c.draft.step(true)
      // Rows and columns run along the turned axes.
      const [u, v] = [column * dx, row * dy]
      const at: Matrix = [
        sx * cos,
        sx * sin,
        -sy * sin,
        sy * cos,
        first(e, 10, 0) + u * cos - v * sin,
        first(e, 20, 0) + u * sin + v * cos,
      ]
      drawAll(c, block.entities, after(matrix, after(at, [1, 0, 0, 1, -bx, -by])), [...inside, key], layer)
    }
  }
}

/** A quarter turn's cosine is 0. */
const exact = (v: number): number => (Math.abs(v - Math.round(v)) < 1e-15 ? Math.round(v) : v)
