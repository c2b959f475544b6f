/** How a part is held: holes, slots, cut-out, pins, from what was measured. */
import { useState } from 'react'
import { PITCH } from '../../footprints/pitch.ts'
import { THREADS, type Thread } from '../export/hardware-data.ts'
import {
  cornerHoles,
  cornersApart,
  type MountHoleFile,
  type MountKind,
  mountedBy,
  pinRows,
} from '../model/edit-footprint.ts'
import { words } from '../words/index.ts'
import { Choice, CountField } from './entry-field.tsx'
import { Carries } from './footprint-carries.tsx'
import { useDraft } from './footprint-draft.ts'
import { Group, Mm, nextId, Pick, Rows, Text } from './footprint-fields.tsx'
import { fitting, screwChoices, screwedBy } from './footprint-screws.ts'
import { LengthField } from './length-field.tsx'

const t = words.footprint
const MOUNTS = Object.keys(t.mounts) as MountKind[]

interface Place {
  readonly path: readonly (string | number)[]
  /** What it is, where no group around it says so. */
  readonly name?: string
}

const inside = (name: string | undefined, field: string): string => (name === undefined ? field : t.of(name, field))

/** A point of the part's own frame. */
export function At({ path, name }: Place) {
  return (
    <>
      <Mm path={[...path, 0]} label={inside(name, t.u)} />
      <Mm path={[...path, 1]} label={inside(name, t.v)} />
    </>
  )
}

/** `[x, y, width, depth]` of the part's own frame. */
export function Box({ path, name }: Place) {
  return (
    <>
      <At path={path} {...(name === undefined ? {} : { name })} />
      <Mm path={[...path, 2]} label={inside(name, t.width)} least={0.001} />
      <Mm path={[...path, 3]} label={inside(name, t.depth)} least={0.001} />
    </>
  )
}

function Holes() {
  const { footprint, put, set } = useDraft()
  const [thread, setThread] = useState<Thread>('M3')
  // Until they are typed they go with the body, which is measured after the bench was opened.
  const [typed, setTyped] = useState<{ readonly across?: number; readonly along?: number }>({})
  const across = typed.across ?? cornersApart(footprint.body.width)
  const along = typed.along ?? cornersApart(footprint.body.depth)
  const { mount } = footprint
  if (mount.kind !== 'screw' && mount.kind !== 'drop-in') return null
  const keep = (more: typeof typed) => {
    setTyped({ ...typed, ...more })
    return undefined
  }
  return (
    <Group title={t.holes}>
      <Rows<MountHoleFile>
        path={['mount', 'holes']}
        one={t.hole}
        fresh={(all) => ({ id: nextId(all, 'h'), at: [3.5, 3.5], ...fitting(thread) })}
      >
        {(hole, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            <At path={[...at, 'at']} />
            <Mm path={[...at, 'diameter']} label={t.diameter} least={0.001} />
            <Mm path={[...at, 'land']} label={t.land} least={0} idle={0} />
            <Choice
              label={t.screw}
              value={hole.screw ?? ''}
              options={screwChoices(hole.screw)}
              onChange={(s) => set(at, screwedBy(hole, s))}
            />
          </>
        )}
      </Rows>
      <div className="bench-filler">
        <p className="quiet">{t.screwNote}</p>
        <b>{t.corner}</b>
        <LengthField
          label={t.across}
          value={across}
          limits={{ least: 0.001, most: 10_000 }}
          onChange={(across) => keep({ across })}
        />
        <LengthField
          label={t.along}
          value={along}
          limits={{ least: 0.001, most: 10_000 }}
          onChange={(along) => keep({ along })}
        />
        <Choice label={t.screw} value={thread} options={THREADS.map((s) => [s, s] as const)} onChange={setThread} />
        <button
          type="button"
          onClick={() =>
            put({
              ...footprint,
              mount: { ...mount, holes: cornerHoles(footprint.body, across, along, fitting(thread)) },
            })
          }
        >
          {t.drill}
        </button>
      </div>
    </Group>
  )
}

function Pins() {
  const { footprint, put } = useDraft()
  const [columns, setColumns] = useState(8)
  const [rows, setRows] = useState<'1' | '2'>('2')
  const [apart, setApart] = useState(7.62)
  if (footprint.mount.kind !== 'plug-in') return null
  return (
    <Group title={t.pins}>
      <Rows<{ id: string; at: [number, number] }>
        path={['plug', 'pins']}
        one={t.pin}
        fresh={(all) => {
          const last = all.at(-1)?.at ?? [0, 1.27]
          return { id: nextId(all, ''), at: [Math.round((last[0] + PITCH) * 1000) / 1000, last[1]] }
        }}
      >
        {(_pin, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            <At path={[...at, 'at']} />
            <Carries at={at} />
          </>
        )}
      </Rows>
      <div className="fields">
        <Pick
          path={['plug', 'lamps']}
          label={t.lamps}
          options={[
            ['', t.lampsNone],
            ['front', t.lampsOn.front],
            ['back', t.lampsOn.back],
          ]}
        />
      </div>
      <div className="bench-filler">
        <b>{t.pinRows}</b>
        <CountField
          label={t.inRow}
          value={columns}
          range={{ least: 1, most: 100, whole: true }}
          onChange={(n) => {
            setColumns(n)
            return undefined
          }}
        />
        <Choice
          label={t.rowCount}
          value={rows}
          options={[
            ['1', '1'],
            ['2', '2'],
          ]}
          onChange={setRows}
        />
        {rows === '2' && (
          <LengthField
            label={t.apart}
            value={apart}
            limits={{ least: PITCH, most: 200 }}
            onChange={(mm) => {
              setApart(mm)
              return undefined
            }}
          />
        )}
        <button
          type="button"
          onClick={() =>
            put({
              ...footprint,
              plug: { ...footprint.plug, pins: pinRows(footprint.body, columns, rows === '1' ? 1 : 2, apart) },
            })
          }
        >
          {t.drill}
        </button>
      </div>
    </Group>
  )
}

export function MountFields() {
  const { footprint, put } = useDraft()
  const { mount } = footprint
  return (
    <>
      <Group title={t.mount}>
        <div className="fields">
          <Choice
            label={t.mount}
            unseenLabel
            value={mount.kind}
            options={MOUNTS.map((kind) => [kind, t.mounts[kind]] as const)}
            onChange={(kind) => put(mountedBy(footprint, kind))}
          />
          {mount.kind === 'screw' && <Mm path={['mount', 'standoff']} label={t.standoff} least={0} idle={0} />}
          {mount.kind === 'drop-in' && <Mm path={['mount', 'below']} label={t.below} least={0} idle={0} />}
        </div>
        {mount.kind === 'drop-in' && (
          <div className="fields">
            <Box path={['mount', 'cutout']} name={t.cutout} />
          </div>
        )}
        {mount.kind === 'strap' && (
          <Rows<[number, number, number, number]>
            path={['mount', 'slots']}
            one={t.slot}
            fresh={() => [1, 1, Math.min(12, footprint.body.width), 3]}
          >
            {(_slot, at) => <Box path={at} />}
          </Rows>
        )}
      </Group>
      <Holes />
      <Pins />
    </>
  )
}
