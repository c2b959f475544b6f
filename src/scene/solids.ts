/** A layout as boxes of true height: bodies, what is reserved on them, and their stand-offs. Plain numbers, mm, z over the ground. */
import { type Body, bodiesOf, type Placement, type Problem, pointOn } from '../../solver/index.ts'
import { type SceneView, wayOf } from '../store/scene-view.ts'

export interface Box {
  readonly item: number
  readonly id: string
  /** Its middle. */
  readonly x: number
  readonly y: number
  readonly z: number
  readonly w: number
  readonly d: number
  readonly h: number
  readonly board: boolean
}

export interface Post {
  readonly item: number
  readonly x: number
  readonly y: number
  readonly low: number
  readonly high: number
  readonly r: number
}

export interface Solids {
  readonly solid: readonly Box[]
  /** Parts that come later, and those that are only to be hinted at. */
  readonly ghosts: readonly Box[]
  /** Heights that are reserved on parts, as far as they are filled. */
  readonly stacks: readonly Box[]
  readonly posts: readonly Post[]
}

/** A stand-off is drawn about so much wider than the hole of its screw; the file does not say: common practice, no source. */
const POST = 1.8

function boxOf(body: Body, low: number, high: number): Box {
  const { rect } = body
  return {
    item: body.index,
    id: body.item.id,
    x: (rect.x + rect.w / 2) / 1000,
    y: (rect.y + rect.h / 2) / 1000,
    z: (low + high) / 2,
    w: rect.w / 1000,
    d: rect.h / 1000,
    h: Math.max(high - low, 0.1),
    board: !!body.item.footprint.breadboard,
  }
}

/** `lifts`: how far each deck is raised, mm. */
export function solidsOf(
  problem: Problem,
  placements: readonly Placement[],
  view: SceneView,
  lifts: readonly number[],
): Solids {
  const solid: Box[] = []
  const ghosts: Box[] = []
  const stacks: Box[] = []
  const posts: Post[] = []
  for (const body of bodiesOf(problem, placements)) {
    const { item, placement } = body
    const way = wayOf(view, 'item', item.id)
    if (way === 'hidden') continue
    const lift = lifts[body.deck] ?? 0
    const low = body.bottom / 1000 + lift
    const top = body.top / 1000 + lift
    ;(way === 'ghost' || item.later ? ghosts : solid).push(boxOf(body, low, top))
    const filled = ((body.reach - body.top) / 1000) * view.stacked
    if (filled > 0) stacks.push(boxOf(body, top, top + filled))
    const { mount } = item.footprint
    if (mount.kind !== 'screw' || way === 'ghost') continue
    const ground = (problem.decks[body.deck]?.z ?? 0) / 1000 + lift
    for (const hole of mount.holes) {
      const at = pointOn(item.footprint, placement, hole.at)
      posts.push({
        item: body.index,
        x: at.x / 1000,
        y: at.y / 1000,
        low: ground,
        high: low,
        r: (hole.diameter / 2000) * POST,
      })
    }
  }
  return { solid, ghosts, stacks, posts: posts.filter((p) => p.high > p.low) }
}

/** The twelve edges of boxes that are larger by `by` on every side, as pairs of points. */
export function edgesOf(box: Box, by = 0): number[] {
  const [x, y, z] = [box.x, box.y, box.z]
  const [a, b, c] = [box.w / 2 + by, box.d / 2 + by, box.h / 2 + by]
  const out: number[] = []
  for (const i of [-1, 1])
    for (const j of [-1, 1]) {
      out.push(x - a, y + i * b, z + j * c, x + a, y + i * b, z + j * c)
      out.push(x + i * a, y - b, z + j * c, x + i * a, y + b, z + j * c)
      out.push(x + i * a, y + j * b, z - c, x + i * a, y + j * b, z + c)
    }
  return out
}

/** The same as what is only hinted at, with nothing on it or under it. */
export const hintedAt = ({ solid, ghosts }: Solids): Solids => ({
  solid: [],
  ghosts: [...solid, ...ghosts],
  stacks: [],
  posts: [],
})
