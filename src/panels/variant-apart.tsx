/** Where the items of one variant stand in the other: dashed outlines on the plan, and the same as sentences. */
import { Name } from '../plan/names.tsx'
import { placedAt } from '../plan/paths.ts'
import { type Apart, type Laid, placesApart } from '../store/compare.ts'
import type { Box } from '../store/item-label.ts'
import { sizeOf } from '../store/moves.ts'
import { boxOf } from '../store/outline.ts'
import { captionBox, nameTexts, outlineTexts } from '../store/plan-texts.ts'
import { called, captionOf, inMm } from '../store/sentences.ts'
import { words } from '../words/index.ts'

const text = words.variants.two

export function apartText({ item, kind, dx, dy, turns, deck }: Apart): string {
  const name = called(item)
  if (kind === 'only-here') return text.onlyHere(name)
  if (kind === 'only-there') return text.onlyThere(name)
  return text.moved(name, dx, dy, inMm(Math.abs(dx)), inMm(Math.abs(dy)), turns, deck)
}

const boxInMm = ({ x, y, w, h }: Box): Box => ({ x: x / 1000, y: y / 1000, w: w / 1000, h: h / 1000 })

interface Props {
  readonly here: Laid
  readonly there: Laid
  readonly apart: readonly Apart[]
  /** Index of the deck here. */
  readonly deck: number
  readonly scale: number
  /** Ids of the items whose way is drawn as well. */
  readonly inHand: readonly (string | undefined)[]
}

/** The outlines that belong on one deck; for an item in hand with a line from where it stands here. */
export function ApartMarks({ here, there, apart, deck, scale, inHand }: Props) {
  const id = here.problem.decks[deck]?.id
  const middle = (laid: Laid, p: NonNullable<Apart['here']>): readonly [number, number] => {
    const item = laid.problem.items[p.item]
    const size = item ? sizeOf(item, p.turn) : { w: 0, h: 0 }
    return [(p.at.x + size.w / 2) / 1000, (p.at.y + size.h / 2) / 1000]
  }
  const alone = apart.flatMap(({ item, kind, there: at }) => {
    const of = at && there.problem.items[at.item]
    if (kind !== 'only-there' || !of || there.problem.decks[at.deck]?.id !== id) return []
    const { w, h } = sizeOf(of, at.turn)
    return { name: called(item), box: boxInMm({ ...at.at, w, h }) }
  })
  const names = nameTexts(here.problem, here.placements, deck, scale, []).map((n) => n.box)
  const outline = here.problem.decks[deck]?.outline
  const caption = outline && captionBox(captionOf(here.problem, deck), boxInMm(boxOf(outline)), scale)
  const texts = outlineTexts(alone, caption ? [...names, caption] : names, scale)
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus; the sentences below say it
    <g className="apart" aria-hidden="true">
      {apart.map((one) => {
        const { there: at } = one
        const item = at && there.problem.items[at.item]
        if (!at || !item || there.problem.decks[at.deck]?.id !== id) return null
        const [x2, y2] = middle(there, at)
        const strong = inHand.includes(one.item)
        const from = strong && one.here?.deck === deck ? middle(here, one.here) : undefined
        return (
          <g key={one.item} className={strong ? 'strong' : undefined}>
            <g transform={placedAt(at.at, at.turn, item.footprint.width, item.footprint.depth)}>
              <rect width={item.footprint.width / 1000} height={item.footprint.depth / 1000} />
            </g>
            {from && <path d={`M${from[0]} ${from[1]}L${x2} ${y2}`} />}
            {from && <circle cx={x2} cy={y2} r={3 * scale} />}
          </g>
        )
      })}
      {texts.map(({ name, label }) => (
        <Name key={name} label={label} scale={scale} />
      ))}
    </g>
  )
}

export function ApartList({ here, there, name }: { here: Laid; there: Laid; name: string }) {
  const apart = placesApart(here, there)
  if (apart.length === 0) return <p className="apart-list">{text.same}</p>
  return (
    <div className="apart-list">
      <h3>{text.apart(name)}</h3>
      <ul>
        {apart.map((one) => (
          <li key={`${one.item} ${one.kind}`}>{apartText(one)}</li>
        ))}
      </ul>
    </div>
  )
}
