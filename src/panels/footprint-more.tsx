/** Where wires end on a part, and the contacts that it brings. */
import { PITCH } from '../../footprints/pitch.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { joinedText, readJoined, withoutBlock } from '../model/edit-footprint-more.ts'
import { words } from '../words/index.ts'
import { TextField } from './entry-field.tsx'
import { inForm } from './footprint-called.ts'
import { Carries } from './footprint-carries.tsx'
import { useDraft } from './footprint-draft.ts'
import { Count, Group, Having, Mm, nextId, Pick, Rows, Text, Wrong } from './footprint-fields.tsx'
import { At } from './footprint-mount.tsx'

const t = words.footprint

type Terminal = NonNullable<FootprintFile['terminals']>[number]
type Block = NonNullable<FootprintFile['breadboard']>['blocks'][number]

export function Terminals() {
  return (
    <Group title={t.terminals}>
      <Rows<Terminal> path={['terminals']} one={t.terminal} fresh={(all) => ({ id: nextId(all, 't'), at: [2, 2] })}>
        {(_terminal, at) => (
          <>
            <Text path={[...at, 'id']} label={t.rowId} />
            <At path={[...at, 'at']} />
            <Carries at={at} />
          </>
        )}
      </Rows>
    </Group>
  )
}

/** Contacts as of a common board: five rows of columns, from its lower-left one. */
const FIRST: Block = { at: [2, 2], columns: 10, rows: 5, strip: 'column' }

function Joined() {
  const { footprint, set, problems } = useDraft()
  const { blocks = [], joined } = footprint.breadboard ?? {}
  const problem = problems.find((p) => p.path.startsWith('breadboard.joined'))
  const wrong = problem && inForm(footprint, problem)
  return (
    <>
      <TextField
        label={t.joined}
        wide
        value={joinedText(joined)}
        onChange={(typed) => {
          const read = readJoined(typed, blocks.length)
          if (!read) return words.parts.refused(words.parts.found(typed), t.joinedWrong(blocks.length))
          return set(['breadboard', 'joined'], read.length > 0 ? read : undefined)
        }}
      />
      {wrong && <span className="field-wrong">{words.parts.refused(wrong.found, wrong.expected)}</span>}
    </>
  )
}

export function Contacts() {
  const { footprint, set } = useDraft()
  const { breadboard } = footprint
  return (
    <Group title={t.contacts}>
      <Having path={['breadboard']} label={t.hasContacts} fresh={{ pitch: PITCH, blocks: [FIRST] }}>
        <Mm path={['breadboard', 'pitch']} label={t.pitch} least={0.001} idle={PITCH} />
        <Wrong path={['breadboard', 'blocks']} />
        <Rows<Block>
          path={['breadboard', 'blocks']}
          one={t.block}
          fresh={(all) => all.at(-1) ?? FIRST}
          onRemove={(k) => breadboard && set(['breadboard'], withoutBlock(breadboard, k))}
        >
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
        <Joined />
      </Having>
    </Group>
  )
}
