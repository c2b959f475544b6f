/** What the form of a part calls its fields, and what is wrong with them in its words: problems come with paths as a file has them. */
import type { Path } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { wanted } from '../../footprints/words.ts'
import type { EditProblem } from '../model/index.ts'
import { words } from '../words/index.ts'

const t = words.footprint

/** One field by its label; several side by side; a list by what one of it is called; what stands under one title. */
type Called =
  | string
  | readonly string[]
  | { readonly one: string; readonly title?: string; readonly of: Called }
  | { readonly title?: string; readonly fields: Readonly<Record<string, Called>> }

const at = [t.u, t.v]
const box = [...at, t.width, t.depth]
const carries = {
  id: t.rowId,
  at,
  name: t.terminalName,
  kind: t.carries,
  volts: [t.voltsLow, t.voltsHigh],
  conductors: t.conductorsLabel,
  plug: t.inPlugLabel,
  program: t.program,
  also: t.also,
}
const { viewFrom: view, power } = t
const looks = {
  from: [view.x, view.y, view.z],
  towards: view.towards,
  width: view.width,
  height: view.height,
  range: view.range,
}
const solid = (one: string, title: string): Called => ({ one, title, of: { fields: { id: t.rowId, box: t.boxOf } } })

const FORM: Called = {
  fields: {
    id: t.id,
    name: t.name,
    source: t.source,
    kind: t.kind,
    body: { title: t.body, fields: { width: t.width, depth: t.depth, height: t.height } },
    mass: t.mass,
    above: t.above,
    mount: {
      fields: {
        kind: t.mount,
        standoff: t.standoff,
        below: t.below,
        cutout: box.map((field) => t.of(t.cutout, field)),
        slots: { one: t.slot, title: t.slots, of: box },
        holes: {
          one: t.hole,
          title: t.holes,
          of: { fields: { id: t.rowId, at, diameter: t.diameter, land: t.land, screw: t.screw } },
        },
      },
    },
    corridors: {
      one: t.corridor,
      title: t.corridors,
      of: {
        fields: {
          id: t.rowId,
          shape: {
            fields: {
              rect: box,
              radius: t.corners,
              circle: [...at, t.radius],
              sector: [...at, t.radius, t.sectorFrom, t.sectorTo],
              polygon: { one: t.corner1, title: t.forms.polygon, of: [...at, t.bulge] },
            },
          },
          z: [t.low, t.high],
          access: t.access,
          why: t.why,
        },
      },
    },
    terminals: { one: t.terminal, title: t.terminals, of: { fields: carries } },
    breadboard: {
      title: t.contacts,
      fields: {
        pitch: t.pitch,
        blocks: {
          one: t.block,
          of: { fields: { at, columns: t.columns, rows: t.rows, strip: t.strip } },
        },
        joined: t.joined,
      },
    },
    plug: { title: t.pins, fields: { pins: { one: t.pin, of: { fields: carries } }, lamps: t.lamps } },
    head: {
      title: t.head,
      fields: {
        pivot: at.map((field) => t.of(t.pivot, field)),
        pan: [t.panFrom, t.panTo],
        reach: t.reach,
        tail: t.tail,
        z: [t.zLow, t.zHigh],
        tilt: [t.tiltFrom, t.tiltTo],
        tiltAxis: [t.axisAhead, t.axisHeight],
        payload: solid(t.load, t.payload),
        bracket: solid(t.piece, t.bracket),
        view: { fields: looks },
      },
    },
    view: { title: t.sight, fields: looks },
    indicators: { one: t.lamp, title: t.sight, of: { fields: { id: t.rowId, at, name: t.terminalName } } },
    power: {
      title: power.title,
      fields: {
        part: power.part,
        load: { fields: power.labels },
        supply: { fields: { ...power.labels, switched: power.switched } },
        output: { fields: { volts: power.labels.output, efficiency: power.labels.efficiency } },
        rating: power.labels.rating,
      },
    },
  },
}

/** An entry of a list, by its id or else, where that is missing or empty, by its number. */
export const rowCalled = (one: string, entry: unknown, index: number): string =>
  `${one} ${(entry as { id?: string } | undefined)?.id || index + 1}`

/** The field at a path, as somebody reads who has the form before him: its row or its title, then its label. */
export function fieldCalled(footprint: unknown, path: Path): string {
  const said: string[] = []
  let now: Called | undefined = FORM
  let value = footprint
  for (const [k, step] of path.entries()) {
    value = (value as Record<string | number, unknown> | undefined)?.[step]
    if (now === undefined || typeof now === 'string') break
    if ('one' in now) {
      // The row tells more than its title.
      said.splice(0, said.length, rowCalled(now.one, value, Number(step)))
      now = now.of
    } else if ('fields' in now) now = Object.hasOwn(now.fields, step) ? now.fields[step] : undefined
    else now = (now as readonly string[])[Number(step)]
    const isLast = k === path.length - 1
    if (typeof now === 'string') said.push(now)
    else if (Array.isArray(now) && isLast) said.push(t.files.listed(now))
    else if (now && 'title' in now && now.title !== undefined && (isLast || 'fields' in now)) said.push(now.title)
  }
  return said.join(', ') || t.part
}

/** `mount.holes[1].id` as a path again. */
const pathOf = (text: string): Path =>
  [...text.matchAll(/\[(\d+)\]|[^.[\]]+/g)].map(([step, index]) => (index === undefined ? step : Number(index)))

/** What files say with brackets and names of fields. */
const PLAIN: ReadonlyMap<string, string> = new Map([
  [wanted.id, t.wanted.id],
  [wanted.heightsInOrder, t.wanted.heightsInOrder],
  [wanted.panInOrder, t.wanted.panInOrder],
  [wanted.tiltInOrder, t.wanted.tiltInOrder],
  [wanted.radius, t.wanted.radius],
  [wanted.someBlocks, t.wanted.someBlocks],
  [wanted.voltsInOrder, t.wanted.voltsInOrder],
  [wanted.pins, t.wanted.pins],
  [wanted.noPins, t.wanted.noPins],
  [wanted.rowBlock, t.joinedRows],
])

/** What stands there, by what was expected of it; undefined = as it stands in a file. */
function foundOf(footprint: unknown, { found, expected }: EditProblem): string | undefined {
  const mount = (footprint as Partial<FootprintFile>).mount?.kind
  if (expected === wanted.noPins && mount !== undefined) return t.wanted.pinsOn(mount)
  // in the form blocks are counted from 1
  if (expected === wanted.rowBlock && /^\d+$/.test(found)) return String(Number(found) + 1)
  return found === '[]' ? t.wanted.none : undefined
}

/** A problem in the words of the form: the field by its label, and what is found and expected without a file's signs. */
export function inForm(footprint: unknown, problem: EditProblem) {
  const { path, found, expected } = problem
  const [, taken, there] = /^(.*) stands at (\S+) already$/.exec(expected) ?? []
  return {
    field: fieldCalled(footprint, pathOf(path)),
    found: foundOf(footprint, problem) ?? found.replace(/^\[([^[\]]+)\]$/, '$1'),
    expected:
      taken !== undefined && there !== undefined
        ? t.wanted.ownId(fieldCalled(footprint, pathOf(there)))
        : (PLAIN.get(expected) ?? expected.replace(/\[(\d+)\]/g, (_, k: string) => `${t.corner1} ${Number(k) + 1}`)),
  }
}
