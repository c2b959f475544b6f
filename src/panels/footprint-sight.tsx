/** What turns, what it carries, what it looks at; what a part that stands still looks at, and the lamps on it. */
import type { Path } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { words } from '../words/index.ts'
import { Sentence } from './entry-field.tsx'
import { useDraft } from './footprint-draft.ts'
import { Count, Group, Having, Mm, nextId, Rows, Text, Wrong } from './footprint-fields.tsx'
import { At } from './footprint-mount.tsx'

const t = words.footprint

type Head = NonNullable<FootprintFile['head']>
type Solid = NonNullable<Head['payload']>[number]
type Lamp = NonNullable<FootprintFile['indicators']>[number]

const slot = (path: Path, label: string, least?: number) => (
  <Mm path={path} label={label} unseenLabel {...(least === undefined ? {} : { least })} />
)
const degrees = (path: Path, label: string, least: number, most: number) => (
  <Count path={path} label={label} unseenLabel least={least} most={most} />
)

/** Where a view begins and how wide it is; `text` says in which frame. */
function View({ path, text, towards }: { path: Path; text: string; towards: boolean }) {
  const from = t.viewFrom
  return (
    <>
      <Sentence
        text={text}
        slots={{
          x: slot([...path, 'from', 0], from.x),
          y: slot([...path, 'from', 1], from.y),
          z: slot([...path, 'from', 2], from.z),
          towards: towards ? (
            <Count path={[...path, 'towards']} label={from.towards} unseenLabel idle={0} least={-720} most={720} />
          ) : null,
          width: degrees([...path, 'width'], from.width, 0.1, 170),
          height: degrees([...path, 'height'], from.height, 0.1, 170),
          range: <Mm path={[...path, 'range']} label={from.range} unseenLabel least={0.001} optional />,
        }}
      />
      <Wrong path={[...path, 'from']} />
    </>
  )
}

function Solids({ path, one, title, why }: { path: Path; one: string; title: string; why: string }) {
  return (
    <section aria-label={title}>
      <p>
        <b>{title}</b> <span className="quiet">{why}</span>
      </p>
      <Rows<Solid>
        path={path}
        one={one}
        fresh={(all) => ({ id: nextId(all, one.charAt(0).toLowerCase()), box: [-10, -5, -10, 20, 10, 20] })}
      >
        {(_solid, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            {t.boxOf.map((label, k) => (
              <Mm key={label} path={[...at, 'box', k]} label={label} {...(k > 2 ? { least: 0.001 } : {})} />
            ))}
          </>
        )}
      </Rows>
    </section>
  )
}

export function Turning() {
  const { footprint } = useDraft()
  const { width, depth, height } = footprint.body
  const fresh = {
    pivot: [width / 2, depth / 2],
    pan: [-90, 90],
    reach: Math.max(width, depth),
    tail: Math.max(width, depth) / 2,
    z: [Math.round(height / 2), height],
  }
  return (
    <Group title={t.head}>
      <Having path={['head']} label={t.hasHead} fresh={fresh}>
        <p className="quiet">{t.panNote}</p>
        <div className="fields">
          <At path={['head', 'pivot']} name={t.pivot} />
          <Count path={['head', 'pan', 0]} label={t.panFrom} least={-720} most={720} />
          <Count path={['head', 'pan', 1]} label={t.panTo} least={-720} most={720} />
          <Wrong path={['head', 'pan']} />
          <Mm path={['head', 'reach']} label={t.reach} least={0.001} />
          <Mm path={['head', 'tail']} label={t.tail} least={0} />
          <Mm path={['head', 'z', 0]} label={t.zLow} />
          <Mm path={['head', 'z', 1]} label={t.zHigh} />
          <Wrong path={['head', 'z']} />
        </div>
        <Having path={['head', 'tilt']} label={t.hasTilt} fresh={[-30, 30]}>
          <Sentence
            text={t.tilt}
            slots={{
              from: degrees(['head', 'tilt', 0], t.tiltFrom, -180, 180),
              to: degrees(['head', 'tilt', 1], t.tiltTo, -180, 180),
            }}
          />
          <Wrong path={['head', 'tilt']} />
        </Having>
        <Having path={['head', 'tiltAxis']} label={t.hasAxis} fresh={[0, height]}>
          <Sentence
            text={t.axis}
            slots={{
              ahead: slot(['head', 'tiltAxis', 0], t.axisAhead),
              z: slot(['head', 'tiltAxis', 1], t.axisHeight),
            }}
          />
        </Having>
        <Solids path={['head', 'payload']} one={t.load} title={t.payload} why={t.payloadWhy} />
        <Solids path={['head', 'bracket']} one={t.piece} title={t.bracket} why={t.bracketWhy} />
        <Having path={['head', 'view']} label={t.headLooks} fresh={{ from: [0, 0, 0], width: 60, height: 45 }}>
          <View path={['head', 'view']} text={t.headView} towards={false} />
        </Having>
      </Having>
    </Group>
  )
}

export function Sight() {
  const { footprint } = useDraft()
  const { width, depth, height } = footprint.body
  const fresh = { from: [width / 2, depth, Math.round(height / 2)], width: 30, height: 30 }
  return (
    <Group title={t.sight}>
      <Having path={['view']} label={t.looks} fresh={fresh}>
        <View path={['view']} text={t.view} towards />
      </Having>
      <Rows<Lamp>
        path={['indicators']}
        one={t.lamp}
        fresh={(all) => ({ id: nextId(all, 'lamp'), at: [width / 2, depth / 2] })}
      >
        {(_lamp, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            <At path={[...at, 'at']} />
            <Text path={[...at, 'name']} label={t.terminalName} />
          </>
        )}
      </Rows>
      <p className="quiet">{t.lampsWhy}</p>
    </Group>
  )
}
