/**
 * The field kinds that footprint, project and layout files share, as zod schemas. The `error` of each says what would be
 * right; what was found is read off the file. Objects are strict, so that unknown fields come to light (as warnings).
 */
import * as z from 'zod/mini'
import type { Shape } from '../solver/problem.ts'
import { type Budget, simple } from '../solver/shapes-simple.ts'
import { mm, um } from '../solver/units.ts'
import { type Issue, MOST_LISTED, nearest, oneOf, type Path, pathText, snippet, UNKNOWN } from './problems.ts'
import { wanted } from './words.ts'

const number = (expected: string, right: (v: number) => boolean) =>
  z.number({ error: expected }).check(z.refine(right, { error: expected }))

/** mm: so far from 0 do the numbers of a file go. */
export const FARTHEST = 10_000
export const range = (lo: number, hi: number, what: string) =>
  number(wanted.between(what, lo, hi), (v) => v >= lo && v <= hi)
/** mm, may be 0. */
export const length = range(0, FARTHEST, wanted.length)
/** mm, at least a micrometre. */
export const size = range(0.001, FARTHEST, wanted.length)
/** mm, either side of 0. */
export const coordinate = range(-FARTHEST, FARTHEST, wanted.coordinate)
export const degrees = range(-720, 720, wanted.degrees)
export const whole = (lo: number, hi: number) =>
  number(wanted.whole(lo, hi), (v) => Number.isInteger(v) && v >= lo && v <= hi)
export const text = z.string({ error: wanted.text })
export const flag = z.boolean({ error: wanted.flag })
export const id = z
  .string({ error: wanted.id })
  .check(z.refine((v) => v !== '' && !v.includes('#'), { error: wanted.id }))
/** The name of something that stands elsewhere in the file. */
export const ref = z.string({ error: wanted.ref })

export const choice = <const T extends readonly string[]>(values: T) => z.enum(values, { error: oneOf(values) })
export const literal = <const T extends string | number>(value: T) => z.literal(value, { error: JSON.stringify(value) })
export const turn = z.literal([0, 1, 2, 3], { error: wanted.turn })

/** An object whose unknown fields come out as issues that carry the known names. */
export function object<S extends Parameters<typeof z.strictObject>[0] & object>(shape: S) {
  const known = Object.keys(shape).join(' ')
  const needed = Object.entries(shape).flatMap(([key, field]) =>
    (field as z.core.$ZodType)._zod.optin === 'optional' ? [] : [JSON.stringify(key)],
  )
  // Whoever left all of it out is told what belongs into it.
  const missing = needed.length === 0 ? wanted.object : wanted.objectWith(needed)
  return z.strictObject(shape, {
    error: (i) => (i.code === 'unrecognized_keys' ? known : i.input === undefined ? missing : wanted.object),
  })
}

export const point = z.tuple([coordinate, coordinate], { error: wanted.point })
export const box = z.tuple([coordinate, coordinate, size, size], { error: wanted.box })
/** Heights [lo, hi]. */
export const band = z
  .tuple([coordinate, coordinate], { error: wanted.heights })
  .check(z.refine(([lo, hi]) => lo <= hi, { error: wanted.heightsInOrder }))

const always = { when: () => true }

/**
 * The schema of every entry of a list or a record, run one by one: zod hands issues on in calls whose arguments they are, which
 * a hostile file overflows. After `MOST_LISTED` problems the rest is not looked at; unknown fields are only told, up to as many.
 */
const each = (entry: z.core.SomeType) =>
  z.check<object>((payload) => {
    const counted = { problems: 0, warnings: 0 }
    for (const [key, value] of Array.isArray(payload.value) ? payload.value.entries() : Object.entries(payload.value)) {
      for (const issue of z.safeParse(entry as z.ZodMiniType, value).error?.issues ?? []) {
        const kind = issue.code === 'unrecognized_keys' ? 'warnings' : 'problems'
        if (++counted[kind] > MOST_LISTED) continue
        payload.issues.push({ ...issue, path: [key, ...issue.path], input: value } as z.core.$ZodRawIssue)
      }
      if (counted.problems > MOST_LISTED) return
    }
  })

export const list = <T extends z.core.SomeType>(entry: T, expected = wanted.list) =>
  z.array(z.unknown(), { error: expected }).check(each(entry)) as unknown as z.ZodMiniArray<T>

/** An object whose field names are ids from the file, `__proto__` among them, so no schema of zod's copies it. */
export const byId = <T extends z.core.SomeType>(entry: T) =>
  z.custom<object>(isObject, { error: wanted.byId }).check(each(entry)) as unknown as z.ZodMiniRecord<
    z.ZodMiniString,
    T
  >

/** A list whose entries have ids, each once. */
export const listById = <T extends z.core.SomeType>(entry: T) =>
  list(entry).check(
    z.check((payload) => {
      const first = new Map<string, number>()
      const entries: readonly unknown[] = Array.isArray(payload.value) ? payload.value : []
      let told = 0
      entries.forEach((e, i) => {
        const name = typeof e === 'object' && e !== null && 'id' in e ? e.id : undefined
        if (typeof name !== 'string') return
        const before = first.get(name)
        if (before === undefined) first.set(name, i)
        else if (++told <= MOST_LISTED + 1) {
          const said = { message: wanted.ownId, params: { first: before } }
          payload.issues.push({ code: 'custom', path: [i, 'id'], input: payload.value, continue: true, ...said })
        }
      })
    }, always),
  )

/** Contract §1: exactly one of the four, in mm. */
export type ShapeFile =
  | { rect: [number, number, number, number]; radius?: number | undefined }
  | { circle: [number, number, number] }
  | { polygon: ([number, number] | [number, number, number])[] }
  | { sector: [number, number, number, number, number] }

/** Comparisons that one read may spend on polygons; about a second's work. */
const MOST_PAIRS = 50_000_000
let budget: Budget = { pairs: MOST_PAIRS }
/** Called at the start of each read. */
export const freshBudget = () => {
  budget = { pairs: MOST_PAIRS }
}

const corner = z.tuple([coordinate, coordinate, z.optional(range(-1000, 1000, wanted.bulge))], {
  error: wanted.corner,
})

/** A closed contour's corners: simple, with area; `fewest` says how many there must be. */
const contourOf = (fewest: string) =>
  list(corner, wanted.corners).check(
    z.check((payload) => {
      const points = payload.value.map(([x, y, bulge]) => ({ x: mm(x), y: mm(y), bulge: bulge ?? 0 }))
      const say = (message: string, path: (string | number)[] = []) =>
        payload.issues.push({ code: 'custom', path, message, input: payload.value, continue: true })
      if (points.length < 3 && !(points.length === 2 && points.some((p) => p.bulge !== 0))) {
        say(fewest)
        return
      }
      const s = simple(points, budget)
      if (s.kind === 'point-twice') say(wanted.otherCorner, [s.vertex])
      if (s.kind === 'crosses') say(wanted.simpleContour(...s.edges))
      if (s.kind === 'unchecked') say(wanted.fewerCorners)
    }),
  )

export const contour = contourOf(wanted.moreCorners)

/** Where no bulge is allowed; that has to be asked besides. */
export const straightContour = contourOf(wanted.straightCorners)

const FORMS = ['rect', 'circle', 'polygon', 'sector'] as const
export const shape = object({
  rect: z.optional(z.tuple([coordinate, coordinate, size, size], { error: wanted.box })),
  radius: z.optional(length),
  circle: z.optional(z.tuple([coordinate, coordinate, size], { error: wanted.circle })),
  polygon: z.optional(contour),
  sector: z.optional(
    z.tuple([coordinate, coordinate, size, degrees, degrees], { error: wanted.sector }).check(
      z.refine((s) => s[3] !== s[4] && Math.abs(s[4] - s[3]) <= 360, {
        error: wanted.sectorSweep,
      }),
    ),
  ),
}).check(
  z.refine((s) => !isObject(s) || FORMS.filter((f) => f in s).length === 1, {
    error: wanted.oneForm,
    ...always,
  }),
  z.refine(
    (s) => {
      if (!isObject(s) || typeof s.radius !== 'number') return true
      const [, , w, h] = Array.isArray(s.rect) ? s.rect : []
      return typeof w !== 'number' || typeof h !== 'number' ? s.rect !== undefined : s.radius <= Math.min(w, h) / 2
    },
    { error: wanted.radius, path: ['radius'], ...always },
  ),
) as unknown as z.ZodMiniType<ShapeFile>

function isObject(v: unknown): v is Record<string, unknown> {
  return typeof v === 'object' && v !== null && !Array.isArray(v)
}

/** mm to Um; a sector's `to` comes out above its `from`. */
export function shapeToSolver(s: ShapeFile): Shape {
  if ('rect' in s) {
    const [x, y, w, h] = s.rect
    // Rounding may lift half a micrometre over half the side.
    const radius = um(Math.min(mm(s.radius ?? 0), Math.floor(Math.min(mm(w), mm(h)) / 2)))
    return { kind: 'rect', x: mm(x), y: mm(y), w: mm(w), h: mm(h), radius }
  }
  if ('circle' in s) return { kind: 'circle', cx: mm(s.circle[0]), cy: mm(s.circle[1]), r: mm(s.circle[2]) }
  if ('polygon' in s) {
    const points = s.polygon.map(([x, y, b]) => ({ x: mm(x), y: mm(y), bulge: b ?? 0 }))
    return uprightRect(points) ?? { kind: 'polygon', points }
  }
  const [cx, cy, r, from, to] = s.sector
  return { kind: 'sector', cx: mm(cx), cy: mm(cy), r: mm(r), from, to: to > from ? to : to + 360 }
}

/** Four corners that make a rectangle along x and y are one, so that a cut-out meets it as such (contract R5). */
function uprightRect(points: Extract<Shape, { kind: 'polygon' }>['points']): Shape | undefined {
  const [a, b, c, d] = points
  if (points.length !== 4 || !a || !b || !c || !d || points.some((p) => p.bulge !== 0)) return undefined
  const upright =
    a.x === b.x ? b.y === c.y && c.x === d.x && d.y === a.y : a.y === b.y && b.x === c.x && c.y === d.y && d.x === a.x
  if (!upright) return undefined
  const [x, y] = [Math.min(a.x, c.x), Math.min(a.y, c.y)]
  return { kind: 'rect', x: um(x), y: um(y), w: um(Math.abs(a.x - c.x)), h: um(Math.abs(a.y - c.y)), radius: um(0) }
}

/** Told, and taken all the same. */
const HINTS: ReadonlySet<string> = new Set([wanted.fewerCorners, wanted.contactsOnce])

/** What a schema says about a value: problems, and warnings for hints and for fields it does not know. */
export function issuesOf(schema: z.ZodMiniType, value: unknown): { problems: Issue[]; warnings: Issue[] } {
  freshBudget()
  const problems: Issue[] = []
  const warnings: Issue[] = []
  const result = schema.safeParse(value)
  for (const issue of result.error?.issues ?? []) {
    const path = issue.path as Path
    if (issue.code === 'unrecognized_keys') {
      const known = issue.message.split(' ')
      for (const key of issue.keys.slice(0, MOST_LISTED)) {
        // a field that has no place here may be known elsewhere: it is not its own correction
        const near = nearest(
          key,
          known.filter((k) => k !== key),
        )
        const expected = wanted.knownField(near === undefined ? undefined : snippet(near))
        warnings.push({ path: [...path, key], found: UNKNOWN, expected })
      }
      continue
    }
    const found = at(value, path)
    const near = issue.code === 'invalid_value' ? issue.values : issue.code === 'invalid_union' ? union(issue) : []
    const allowed = near.filter((v) => typeof v === 'string')
    const first = issue.code === 'custom' ? issue.params?.first : undefined
    const message =
      first === undefined
        ? issue.message
        : wanted.ownIdThan(issue.message, snippet(found), pathText([...path.slice(0, -2), first]))
    const expected = allowed.length > 1 ? oneOf(allowed, found) : message
    ;(HINTS.has(issue.message) ? warnings : problems).push({ path, found: snippet(found), expected })
  }
  return { problems, warnings }
}

const union = (issue: object): readonly unknown[] =>
  'options' in issue && Array.isArray(issue.options) ? issue.options : []

function at(value: unknown, path: Path): unknown {
  let v = value
  for (const step of path) {
    v =
      typeof v === 'object' && v !== null && Object.hasOwn(v, step)
        ? (v as Record<string | number, unknown>)[step]
        : undefined
  }
  return v
}
