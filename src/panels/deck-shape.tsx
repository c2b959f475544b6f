/** A shape in numbers: a rectangle, a round one, a slot; any other by its place and its corners. */
import type { ShapeFile } from '../../footprints/fields.ts'
import type { ShapeAt } from '../model/edit-corners.ts'
import { formOf, movedShape, type ShapeForm, shapeOf } from '../model/edit-shapes.ts'
import { lengthText } from '../model/lengths.ts'
import { words } from '../words/index.ts'
import { ShapeCorners } from './deck-corners.tsx'
import { LengthField, type Refusal } from './length-field.tsx'

const w = words.deck
/** mm. */
export const PLACE = { least: -10_000, most: 10_000 }
const SIZE = { least: 0.1, most: 5000 }

export const length = (
  label: string,
  value: number | undefined,
  limits: { least: number; most: number },
  onChange: (value: number) => Refusal,
  onEmpty?: () => Refusal,
) => (
  <LengthField
    key={label}
    label={label}
    value={value}
    limits={limits}
    onChange={onChange}
    {...(onEmpty ? { onEmpty } : {})}
  />
)

interface Props {
  readonly of: ShapeAt
  readonly shape: ShapeFile
  readonly onShape: (shape: ShapeFile) => Refusal
}

export const ShapeFields = ({ of, shape, onShape }: Props) => (
  <>
    {fieldsOf(shape, onShape)}
    <ShapeCorners of={of} shape={shape} onShape={onShape} />
  </>
)

function fieldsOf(shape: ShapeFile, onShape: Props['onShape']) {
  const form = formOf(shape)
  const to = (next: ShapeForm): Refusal => {
    const made = shapeOf(next)
    return made && onShape(made)
  }
  // Corners that were made to be edited stay corners, though they may happen to lie in a rectangle.
  if (form.kind === 'free' || (form.kind === 'rect' && 'polygon' in shape))
    return [
      <p key="is">{w.freeShape(lengthText(form.width), lengthText(form.depth))}</p>,
      length(w.x, form.x, PLACE, (x) => onShape(movedShape(shape, x - form.x, 0))),
      length(w.y, form.y, PLACE, (y) => onShape(movedShape(shape, 0, y - form.y))),
    ]
  switch (form.kind) {
    case 'rect':
      return [
        length(w.x, form.x, PLACE, (x) => to({ ...form, x })),
        length(w.y, form.y, PLACE, (y) => to({ ...form, y })),
        length(w.width, form.width, SIZE, (width) => to({ ...form, width })),
        length(w.length, form.depth, SIZE, (depth) => to({ ...form, depth })),
        length(w.radius, form.radius, { least: 0, most: Math.min(form.width, form.depth) / 2 }, (radius) =>
          to({ ...form, radius }),
        ),
      ]
    case 'round':
      return [
        length(w.x, form.x, PLACE, (x) => to({ ...form, x })),
        length(w.y, form.y, PLACE, (y) => to({ ...form, y })),
        length(w.round, form.diameter, SIZE, (diameter) => to({ ...form, diameter })),
      ]
    case 'slot':
      return [
        length(w.fromX, form.from[0], PLACE, (x) => to({ ...form, from: [x, form.from[1]] })),
        length(w.fromY, form.from[1], PLACE, (y) => to({ ...form, from: [form.from[0], y] })),
        length(w.toX, form.to[0], PLACE, (x) => to({ ...form, to: [x, form.to[1]] })),
        length(w.toY, form.to[1], PLACE, (y) => to({ ...form, to: [form.to[0], y] })),
        length(w.slotAcross, form.width, SIZE, (width) => to({ ...form, width })),
      ]
  }
}
