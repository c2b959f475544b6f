/** What else a part brings: where wires end, room for plugs and hands, contacts, and a head that turns. */
import type { FootprintFile } from '../../footprints/schema.ts'
import { TERMINAL_KINDS } from '../../solver/terminals.ts'
import { words } from '../words/index.ts'
import { useDraft } from './footprint-draft.ts'
import { Count, Group, Mm, nextId, Pick, Rows, Text, Tick } from './footprint-fields.tsx'
import { At, Box } from './footprint-mount.tsx'

const t = words.footprint
const ACCESSES = ['cells', 'program', 'reset', 'switch'] as const

type Terminal = NonNullable<FootprintFile['terminals']>[number]
type Corridor = NonNullable<FootprintFile['corridors']>[number]
type Block = NonNullable<FootprintFile['breadboard']>['blocks'][number]

export function Terminals() {
  return (
    <Group title={t.terminals}>
      <Rows<Terminal> path={['terminals']} one={t.terminal} fresh={(all) => ({ id: nextId(all, 't'), at: [2, 2] })}>
        {(_terminal, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            <At path={[...at, 'at']} />
            <Text path={[...at, 'name']} label={t.terminalName} />
            <Pick
              path={[...at, 'kind']}
              label={t.carries}
              options={[['', t.carriesUnsaid], ...TERMINAL_KINDS.map((kind) => [kind, t.carried[kind]] as const)]}
            />
          </>
        )}
      </Rows>
    </Group>
  )
}

export function Corridors() {
  const { footprint } = useDraft()
  const { width, height } = footprint.body
  return (
    <Group title={t.corridors}>
      <Rows<Corridor>
        path={['corridors']}
        one={t.corridor}
        fresh={(all) => ({
          id: nextId(all, 'room'),
          shape: { rect: [width, 0, 30, 12] },
          z: [0, height],
        })}
      >
        {(corridor, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            {'rect' in corridor.shape ? (
              <Box path={[...at, 'shape', 'rect']} />
            ) : 'circle' in corridor.shape ? (
              <>
                <At path={[...at, 'shape', 'circle']} />
                <Mm path={[...at, 'shape', 'circle', 2]} label={t.radius} least={0.001} />
              </>
            ) : (
              <span className="quiet">{t.drawn}</span>
            )}
            <Mm path={[...at, 'z', 0]} label={t.low} />
            <Mm path={[...at, 'z', 1]} label={t.high} />
            <Pick
              path={[...at, 'access']}
              label={t.access}
              options={[['', t.accessNone], ...ACCESSES.map((what) => [what, t.accesses[what]] as const)]}
            />
            <Text path={[...at, 'why']} label={t.why} wide />
          </>
        )}
      </Rows>
    </Group>
  )
}

/** Contacts as of a common board: five rows of columns, from its lower-left one. */
const FIRST: Block = { at: [2, 2], columns: 10, rows: 5, strip: 'column' }

export function Contacts() {
  const { footprint, set } = useDraft()
  return (
    <Group title={t.contacts}>
      <Tick
        label={t.hasContacts}
        on={footprint.breadboard !== undefined}
        onChange={(on) => set(['breadboard'], on ? { pitch: 2.54, blocks: [FIRST] } : undefined)}
      />
      {footprint.breadboard && (
        <>
          <Mm path={['breadboard', 'pitch']} label={t.pitch} least={0.001} idle={2.54} />
          <Rows<Block> path={['breadboard', 'blocks']} one={t.block} fresh={(all) => all.at(-1) ?? FIRST}>
            {(_block, at) => (
              <>
                <At path={[...at, 'at']} />
                <Count path={[...at, 'columns']} label={t.columns} least={1} most={1000} whole />
                <Count path={[...at, 'rows']} label={t.rows} least={1} most={1000} whole />
                <Pick
                  path={[...at, 'strip']}
                  label={t.strip}
                  options={[
                    ['column', t.strips.column],
                    ['row', t.strips.row],
                  ]}
                />
              </>
            )}
          </Rows>
        </>
      )}
    </Group>
  )
}

export function Turning() {
  const { footprint, set } = useDraft()
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
      <Tick
        label={t.hasHead}
        on={footprint.head !== undefined}
        onChange={(on) => set(['head'], on ? fresh : undefined)}
      />
      {footprint.head && (
        <>
          <p className="quiet">{t.panNote}</p>
          <div className="fields">
            <At path={['head', 'pivot']} name={t.pivot} />
            <Count path={['head', 'pan', 0]} label={t.panFrom} least={-720} most={720} />
            <Count path={['head', 'pan', 1]} label={t.panTo} least={-720} most={720} />
            <Mm path={['head', 'reach']} label={t.reach} least={0.001} />
            <Mm path={['head', 'tail']} label={t.tail} least={0} />
            <Mm path={['head', 'z', 0]} label={t.zLow} />
            <Mm path={['head', 'z', 1]} label={t.zHigh} />
          </div>
        </>
      )}
    </Group>
  )
}
