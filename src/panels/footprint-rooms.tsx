/** Rooms for plugs, hands and tools around a part. */
import type { Path } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { FORMS, formOf, shapeAs } from '../model/edit-footprint-more.ts'
import { words } from '../words/index.ts'
import { Choice } from './entry-field.tsx'
import { useDraft } from './footprint-draft.ts'
import { Count, Group, Mm, nextId, Pick, Rows, Text, Wrong } from './footprint-fields.tsx'
import { At, Box } from './footprint-mount.tsx'

const t = words.footprint
const ACCESSES = ['cells', 'program', 'reset', 'switch'] as const

type Corridor = NonNullable<FootprintFile['corridors']>[number]

function ShapeFields({ shape, path }: { shape: Corridor['shape']; path: Path }) {
  if ('rect' in shape)
    return (
      <>
        <Box path={[...path, 'rect']} />
        <Mm path={[...path, 'radius']} label={t.corners} least={0} optional />
      </>
    )
  if ('circle' in shape)
    return (
      <>
        <At path={[...path, 'circle']} />
        <Mm path={[...path, 'circle', 2]} label={t.radius} least={0.001} />
      </>
    )
  if ('sector' in shape)
    return (
      <>
        <At path={[...path, 'sector']} />
        <Mm path={[...path, 'sector', 2]} label={t.radius} least={0.001} />
        <Count path={[...path, 'sector', 3]} label={t.sectorFrom} least={-720} most={720} />
        <Count path={[...path, 'sector', 4]} label={t.sectorTo} least={-720} most={720} />
      </>
    )
  return (
    <div className="bench-more">
      <Rows<readonly number[]>
        path={[...path, 'polygon']}
        one={t.corner1}
        fresh={(all) => {
          // Between the last and the first, so that the outline stays simple.
          const [[x0 = 0, y0 = 0] = [], [x1 = 0, y1 = 0] = []] = [all[0], all.at(-1)]
          return [(x0 + x1) / 2, (y0 + y1) / 2]
        }}
      >
        {(_corner, at) => (
          <>
            <At path={at} />
            <Count path={[...at, 2]} label={t.bulge} least={-1} most={1} idle={0} />
          </>
        )}
      </Rows>
    </div>
  )
}

export function Corridors() {
  const { footprint, set } = useDraft()
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
            <Choice
              label={t.form}
              value={formOf(corridor.shape)}
              options={FORMS.map((form) => [form, t.forms[form]] as const)}
              onChange={(form) => set([...at, 'shape'], shapeAs(corridor.shape, form))}
            />
            <ShapeFields shape={corridor.shape} path={[...at, 'shape']} />
            <Wrong path={[...at, 'shape']} />
            <Wrong path={[...at, 'shape', formOf(corridor.shape)]} />
            <Mm path={[...at, 'z', 0]} label={t.low} />
            <Mm path={[...at, 'z', 1]} label={t.high} />
            <Wrong path={[...at, 'z']} />
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
