/** What stands before and after the entities of a DXF file: header, tables, blocks, objects. Source: DXF reference. */
import type { Box } from './contour.ts'

export type DxfVersion = 'r2000' | 'r12'

interface Layer {
  readonly name: string
  readonly colour: number
}

type Pair = readonly [number, string | number]

const written = (pairs: readonly Pair[]): string[] =>
  pairs.flatMap(([code, value]) => [String(code).padStart(3), String(value)])

const real = (v: number): string => (Number.isInteger(v) ? `${v}.0` : String(v))

/** `next`: the first handle that is not taken yet. */
export function before(version: DxfVersion, layers: readonly Layer[], view: Box, next: number): string[] {
  const modern = version === 'r2000'
  return written([
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, modern ? 'AC1015' : 'AC1009'],
    ...(modern
      ? ([
          [9, '$DWGCODEPAGE'],
          [3, 'ANSI_1252'],
        ] as Pair[])
      : []),
    ...corner('$INSBASE', 0, 0),
    ...corner('$EXTMIN', view.x0, view.y0),
    ...corner('$EXTMAX', view.x1, view.y1),
    ...flat('$LIMMIN', view.x0, view.y0),
    ...flat('$LIMMAX', view.x1, view.y1),
    // 4 = millimetres, 1 = metric, 2 = decimal.
    [9, '$INSUNITS'],
    [70, 4],
    [9, '$MEASUREMENT'],
    [70, 1],
    [9, '$LUNITS'],
    [70, 2],
    ...(modern
      ? ([
          [9, '$HANDSEED'],
          [5, hex(next)],
        ] as Pair[])
      : []),
    [0, 'ENDSEC'],
    ...(modern
      ? ([
          [0, 'SECTION'],
          [2, 'CLASSES'],
          [0, 'ENDSEC'],
        ] as Pair[])
      : []),
    [0, 'SECTION'],
    [2, 'TABLES'],
    ...(modern ? tables(layers, view) : oldTables(layers)),
    [0, 'ENDSEC'],
    ...(modern ? blocks() : []),
    [0, 'SECTION'],
    [2, 'ENTITIES'],
  ])
}

export function after(version: DxfVersion): string[] {
  return written([[0, 'ENDSEC'], ...(version === 'r2000' ? objects() : []), [0, 'EOF']])
}

const hex = (handle: number): string => handle.toString(16).toUpperCase()

const corner = (name: string, x: number, y: number): Pair[] => [
  [9, name],
  [10, real(x)],
  [20, real(y)],
  [30, '0.0'],
]

const flat = (name: string, x: number, y: number): Pair[] => [
  [9, name],
  [10, real(x)],
  [20, real(y)],
]

/** Pattern in drawing units: 2 mm line, 1 mm gap, as in the SVG. */
const dashes: Pair[] = [
  [72, 65],
  [73, 2],
  [40, '3.0'],
]

function oldTables(layers: readonly Layer[]): Pair[] {
  const type = (name: string, about: string, more: Pair[]): Pair[] => [
    [0, 'LTYPE'],
    [2, name],
    [70, 0],
    [3, about],
    ...more,
  ]
  return [
    [0, 'TABLE'],
    [2, 'LTYPE'],
    [70, 2],
    ...type('CONTINUOUS', 'Solid line', [
      [72, 65],
      [73, 0],
      [40, '0.0'],
    ]),
    ...type('DASHED', '__ __ __', [...dashes, [49, '2.0'], [49, '-1.0']]),
    [0, 'ENDTAB'],
    [0, 'TABLE'],
    [2, 'LAYER'],
    [70, layers.length + 1],
    ...[{ name: '0', colour: 7 }, ...layers].flatMap((l): Pair[] => [
      [0, 'LAYER'],
      [2, l.name],
      [70, 0],
      [62, l.colour],
      [6, 'CONTINUOUS'],
    ]),
    [0, 'ENDTAB'],
    [0, 'TABLE'],
    [2, 'STYLE'],
    [70, 1],
    [0, 'STYLE'],
    [2, 'STANDARD'],
    [70, 0],
    ...styleBody,
    [0, 'ENDTAB'],
  ]
}

const styleBody: Pair[] = [
  [40, '0.0'],
  [41, '1.0'],
  [50, '0.0'],
  [71, 0],
  [42, '2.5'],
  [3, 'txt'],
  [4, ''],
]

/** Handles of the tables and of what is pointed at; records take what follows. */
const owner = {
  blockRecords: 0x1,
  layers: 0x2,
  styles: 0x3,
  lineTypes: 0x5,
  views: 0x6,
  systems: 0x7,
  viewports: 0x8,
  applications: 0x9,
  dimensions: 0xa,
  root: 0xc,
  groups: 0xd,
  model: 0x10,
  modelStart: 0x11,
  modelEnd: 0x12,
  paper: 0x14,
  paperStart: 0x15,
  paperEnd: 0x16,
  viewport: 0x18,
  byBlock: 0x1a,
  byLayer: 0x1b,
  continuous: 0x1c,
  dashed: 0x1d,
  style: 0x20,
  application: 0x21,
  dimension: 0x22,
  firstLayer: 0x30,
} as const

/** A table with its records; each record is its kind, handle, marker, name and the rest. */
function table(name: string, handle: number, records: readonly Pair[][], more: Pair[] = []): Pair[] {
  return [
    [0, 'TABLE'],
    [2, name],
    [5, hex(handle)],
    [330, 0],
    [100, 'AcDbSymbolTable'],
    [70, records.length],
    ...more,
    ...records.flat(),
    [0, 'ENDTAB'],
  ]
}

function record(kind: string, handle: number, table: number, marker: string, name: string, more: Pair[]): Pair[] {
  return [
    [0, kind],
    // DIMSTYLE alone has its handle under 105.
    [kind === 'DIMSTYLE' ? 105 : 5, hex(handle)],
    [330, hex(table)],
    [100, 'AcDbSymbolTableRecord'],
    [100, marker],
    [2, name],
    ...more,
  ]
}

function tables(layers: readonly Layer[], view: Box): Pair[] {
  const type = (handle: number, name: string, about: string, more: Pair[]): Pair[] =>
    record('LTYPE', handle, owner.lineTypes, 'AcDbLinetypeTableRecord', name, [[70, 0], [3, about], ...more])
  const solid: Pair[] = [
    [72, 65],
    [73, 0],
    [40, '0.0'],
  ]
  const [w, h] = [view.x1 - view.x0, view.y1 - view.y0]
  return [
    ...table('VPORT', owner.viewports, [
      record('VPORT', owner.viewport, owner.viewports, 'AcDbViewportTableRecord', '*Active', [
        [70, 0],
        [10, '0.0'],
        [20, '0.0'],
        [11, '1.0'],
        [21, '1.0'],
        [12, real(view.x0 + w / 2)],
        [22, real(view.y0 + h / 2)],
        [13, '0.0'],
        [23, '0.0'],
        [14, '10.0'],
        [24, '10.0'],
        [15, '10.0'],
        [25, '10.0'],
        [16, '0.0'],
        [26, '0.0'],
        [36, '1.0'],
        [17, '0.0'],
        [27, '0.0'],
        [37, '0.0'],
        [40, real(Math.max(w, h))],
        [41, '1.0'],
        [42, '50.0'],
        [43, '0.0'],
        [44, '0.0'],
        [50, '0.0'],
        [51, '0.0'],
        [71, 0],
        [72, 100],
        [73, 1],
        [74, 3],
        [75, 0],
        [76, 0],
        [77, 0],
        [78, 0],
      ]),
    ]),
    ...table('LTYPE', owner.lineTypes, [
      type(owner.byBlock, 'ByBlock', '', solid),
      type(owner.byLayer, 'ByLayer', '', solid),
      type(owner.continuous, 'Continuous', 'Solid line', solid),
      type(owner.dashed, 'DASHED', '__ __ __', [...dashes, [49, '2.0'], [74, 0], [49, '-1.0'], [74, 0]]),
    ]),
    ...table(
      'LAYER',
      owner.layers,
      [{ name: '0', colour: 7 }, ...layers].map((l, i) =>
        record('LAYER', owner.firstLayer + i, owner.layers, 'AcDbLayerTableRecord', l.name, [
          [70, 0],
          [62, l.colour],
          [6, 'Continuous'],
        ]),
      ),
    ),
    ...table('STYLE', owner.styles, [
      record('STYLE', owner.style, owner.styles, 'AcDbTextStyleTableRecord', 'Standard', [[70, 0], ...styleBody]),
    ]),
    ...table('VIEW', owner.views, []),
    ...table('UCS', owner.systems, []),
    ...table('APPID', owner.applications, [
      record('APPID', owner.application, owner.applications, 'AcDbRegAppTableRecord', 'ACAD', [[70, 0]]),
    ]),
    ...table(
      'DIMSTYLE',
      owner.dimensions,
      [
        record('DIMSTYLE', owner.dimension, owner.dimensions, 'AcDbDimStyleTableRecord', 'Standard', [
          [70, 0],
          [340, hex(owner.style)],
        ]),
      ],
      [[100, 'AcDbDimStyleTable']],
    ),
    ...table('BLOCK_RECORD', owner.blockRecords, [
      record('BLOCK_RECORD', owner.model, owner.blockRecords, 'AcDbBlockTableRecord', '*Model_Space', [[340, 0]]),
      record('BLOCK_RECORD', owner.paper, owner.blockRecords, 'AcDbBlockTableRecord', '*Paper_Space', [[340, 0]]),
    ]),
  ]
}

function blocks(): Pair[] {
  const block = (name: string, record: number, start: number, end: number): Pair[] => [
    [0, 'BLOCK'],
    [5, hex(start)],
    [330, hex(record)],
    [100, 'AcDbEntity'],
    [8, '0'],
    [100, 'AcDbBlockBegin'],
    [2, name],
    [70, 0],
    [10, '0.0'],
    [20, '0.0'],
    [30, '0.0'],
    [3, name],
    [1, ''],
    [0, 'ENDBLK'],
    [5, hex(end)],
    [330, hex(record)],
    [100, 'AcDbEntity'],
    [8, '0'],
    [100, 'AcDbBlockEnd'],
  ]
  return [
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...block('*Model_Space', owner.model, owner.modelStart, owner.modelEnd),
    ...block('*Paper_Space', owner.paper, owner.paperStart, owner.paperEnd),
    [0, 'ENDSEC'],
  ]
}

function objects(): Pair[] {
  return [
    [0, 'SECTION'],
    [2, 'OBJECTS'],
    [0, 'DICTIONARY'],
    [5, hex(owner.root)],
    [330, 0],
    [100, 'AcDbDictionary'],
    [281, 1],
    [3, 'ACAD_GROUP'],
    [350, hex(owner.groups)],
    [0, 'DICTIONARY'],
    [5, hex(owner.groups)],
    [330, hex(owner.root)],
    [100, 'AcDbDictionary'],
    [281, 1],
    [0, 'ENDSEC'],
  ]
}
