/** A part from above, true to scale, with everything that it brings: holes, slots, contacts, pins, terminals, rooms and sweep. */
import { memo } from 'react'
import { type Footprint, mountCuts, mountHoles } from '../../solver/index.ts'
import { Hatches, hatch } from '../plan/hatches.tsx'
import { dotsOf, pathOf, sweepOf } from '../plan/paths.ts'
import { type Box, boxOf } from '../store/outline.ts'

interface Props {
  readonly footprint: Footprint
  /** Corridors, terminals, lands and sweep too. */
  readonly whole?: boolean
  /** Keeps the ids of hatches on one page apart. */
  readonly scope: string
  /** Pixels for one millimetre; missing: as wide as there is room. */
  readonly scale?: number
  /** Read out in place of the picture; missing: it only repeats what stands beside it. */
  readonly label?: string
}

const contacts = (f: Footprint): { x: number; y: number }[] =>
  (f.breadboard?.blocks ?? []).flatMap((b) =>
    Array.from({ length: b.columns * b.rows }, (_, k) => ({
      x: b.at.x + (k % b.columns) * (f.breadboard?.pitch ?? 0),
      y: b.at.y + Math.floor(k / b.columns) * (f.breadboard?.pitch ?? 0),
    })),
  )

/** How far a view is drawn, Um: as far as the part is large, or less. */
const farOf = (f: Footprint): number => Math.min(f.view?.range ?? Number.POSITIVE_INFINITY, Math.max(f.width, f.depth))

/** The wedge that a part looks at, from above; mm. */
function viewOf(f: Footprint): string {
  const { view } = f
  if (!view) return ''
  const far = farOf(f) / 1000
  const [x, y] = [view.from.x / 1000, view.from.y / 1000]
  const point = (degrees: number): string => {
    // 0 degrees is the front, along +v, and they count anticlockwise.
    const a = ((view.towards + degrees) * Math.PI) / 180
    return `${(x - far * Math.sin(a)).toFixed(3)} ${(y + far * Math.cos(a)).toFixed(3)}`
  }
  const half = view.width / 2
  return `M${x} ${y}L${point(-half)}A${far} ${far} 0 0 1 ${point(half)}Z`
}

/** The room that the picture takes, mm. */
function frameOf(f: Footprint, whole: boolean): Box {
  const boxes: Box[] = [{ x: 0, y: 0, w: f.width, h: f.depth }]
  if (whole) {
    for (const c of f.corridors) boxes.push(boxOf(c.shape))
    if (f.head) {
      const { pivot, reach, tail } = f.head
      for (const r of [reach, tail]) boxes.push({ x: pivot.x - r, y: pivot.y - r, w: 2 * r, h: 2 * r })
    }
    if (f.view) {
      const [r, { x, y }] = [farOf(f), f.view.from]
      boxes.push({ x: x - r, y: y - r, w: 2 * r, h: 2 * r })
    }
    const marks = [
      ...f.terminals.map((t) => t.at),
      ...(f.plug?.pins ?? []).map((p) => p.at),
      ...('holes' in f.mount ? f.mount.holes.map((h) => h.at) : []),
    ]
    for (const at of marks) boxes.push({ x: at.x - 2000, y: at.y - 2000, w: 4000, h: 4000 })
  }
  const x = Math.min(...boxes.map((b) => b.x)) / 1000
  const y = Math.min(...boxes.map((b) => b.y)) / 1000
  const w = Math.max(...boxes.map((b) => b.x + b.w)) / 1000 - x
  const h = Math.max(...boxes.map((b) => b.y + b.h)) / 1000 - y
  const pad = whole ? Math.max(w, h) * 0.04 : 0.6
  return { x: x - pad, y: y - pad, w: w + 2 * pad, h: h + 2 * pad }
}

export const PartPicture = memo(function PartPicture({ footprint: f, whole = false, scope, scale, label }: Props) {
  const box = frameOf(f, whole)
  const { mount, head } = f
  const [holes, cuts] = [mountHoles(mount), mountCuts(mount)]
  const first = f.plug?.pins[0]
  const size = scale === undefined ? {} : { width: box.w * scale, height: box.h * scale }
  return (
    <svg
      className="plan part-picture"
      viewBox={`${box.x} ${-(box.y + box.h)} ${box.w} ${box.h}`}
      focusable="false"
      role="img"
      aria-label={label}
      aria-hidden={label === undefined}
      {...size}
    >
      {whole && <Hatches scope={scope} />}
      <g transform="scale(1 -1)">
        {whole &&
          head &&
          sweepOf(head).map((d) => <path key={d} className="sweep" d={d} fill={hatch(scope, 'sweep')} />)}
        {whole && f.view && <path className="zone zone-view" d={viewOf(f)} fill={hatch(scope, 'view')} />}
        <rect className={`body body-${f.kind}`} width={f.width / 1000} height={f.depth / 1000} rx={0.6} />
        {whole &&
          f.corridors.map((c) => (
            <path key={c.id} className="corridor" d={pathOf(c.shape)} fill={hatch(scope, 'corridor')} />
          ))}
        {cuts.map((s) => (
          <rect
            key={`${s.x} ${s.y}`}
            className="slot"
            x={s.x / 1000}
            y={s.y / 1000}
            width={s.w / 1000}
            height={s.h / 1000}
          />
        ))}
        {whole &&
          holes
            .filter((h) => h.land > 0)
            .map((h) => (
              <circle key={h.id} className="part-land" cx={h.at.x / 1000} cy={h.at.y / 1000} r={h.land / 2000} />
            ))}
        {holes.map((h) => (
          <circle key={h.id} className="hole" cx={h.at.x / 1000} cy={h.at.y / 1000} r={h.diameter / 2000} />
        ))}
        <g className="contacts">
          <path className="free" d={dotsOf(contacts(f))} />
        </g>
        {f.plug && <path className="part-pins" d={dotsOf(f.plug.pins.map((p) => p.at))} />}
        {first && <circle className="first-pin" cx={first.at.x / 1000} cy={first.at.y / 1000} r={0.9} />}
        {whole &&
          f.indicators?.map(({ id, at, name }) => (
            <circle key={id} className="part-lamp" cx={at.x / 1000} cy={at.y / 1000} r={1.1}>
              <title>{name}</title>
            </circle>
          ))}
        {whole &&
          f.terminals.map(({ id, at }) => (
            <path
              key={id}
              className="part-terminal"
              d={`M${at.x / 1000 - 1} ${at.y / 1000}h2M${at.x / 1000} ${at.y / 1000 - 1}v2`}
            >
              <title>{id}</title>
            </path>
          ))}
      </g>
    </svg>
  )
})
