/** A figure over the line that it belongs to: the line is broken behind all of it, else it would make a colon of a decimal point. */
import { LETTER } from '../store/item-label.ts'

interface Props {
  readonly text: string
  readonly size: number
  /** To the middle of the foot of its letters. */
  readonly transform: string
}

export function OverLine({ text, size, transform }: Props) {
  const wide = text.length * size * LETTER
  return (
    <g transform={transform}>
      <rect className="line-break" x={-wide / 2} y={-0.8 * size} width={wide} height={0.9 * size} />
      <text fontSize={size} textAnchor="middle">
        {text}
      </text>
    </g>
  )
}
