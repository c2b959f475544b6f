/** Whole free strips, and the largest free block of a deck with its count. */
import { memo } from 'react'
import type { FreeSeen } from '../store/measure.ts'
import { words } from '../words/index.ts'
import { lineOf } from './paths.ts'

/** mm from a contact's middle to the outline around it. */
const AROUND = 1

export const FreeLayer = memo(function FreeLayer({ seen, scale }: { readonly seen: FreeSeen; readonly scale: number }) {
  const { strips, block } = seen
  const strokes = strips.map((strip) => {
    const ends = [strip[0]!, strip[strip.length - 1]!] as const
    return lineOf(ends)
  })
  const box = block && {
    x: block.box.x / 1000 - AROUND,
    y: block.box.y / 1000 - AROUND,
    w: block.box.w / 1000 + 2 * AROUND,
    h: block.box.h / 1000 + 2 * AROUND,
  }
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="free-layer" aria-hidden="true">
      <path className="free-strip" d={strokes.join('')} />
      {block && box && (
        <>
          <rect className="free-block" x={box.x} y={box.y} width={box.w} height={box.h} rx={AROUND} />
          <text
            fontSize={11 * scale}
            textAnchor="middle"
            transform={`translate(${box.x + box.w / 2} ${box.y + box.h + 4 * scale}) scale(1 -1)`}
          >
            {words.plan.block(block.contacts)}
          </text>
        </>
      )}
    </g>
  )
})
