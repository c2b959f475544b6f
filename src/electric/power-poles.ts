/**
 * Switches with more terminals than two in use to which several supplies come: selectors, and switches with a pole for each. Nothing says
 * which terminals are joined, but not those of two supplies, so the way of each goes out at one of the rest.
 */
import { type At, isKind, type Join, joinedAs, type Node, type Place, reachedFrom, throughPack } from './conductors.ts'
import { GIVES } from './pins-kinds.ts'
import type { PowerModel } from './power-model.ts'

export interface Poles {
  /** Out at all of them at once: whatever may be reached. */
  readonly all: At
  /** Out at one of each; none where there are too many to look through. */
  readonly each: readonly At[]
}

const MOST = 64

export function polesOf(model: PowerModel, source: number): Poles {
  const c = model.conductors
  const { problem } = model.layout
  const starts = (isOne: (place: Place) => boolean) =>
    [...c.places].flatMap(([node, p]) => (isKind(p, GIVES) && isOne(p) ? [node] : []))
  const isOwn = (p: Place) => 'item' in p && p.item === source
  const isOther = (p: Place) => !isOwn(p) && 'item' in p && !c.roles.protects.has(p.item)
  const named = (own: boolean) =>
    new Set(model.domains.flatMap((d) => ((d.source.item === source) === own ? d.leads.map((l) => l.id) : [])))
  const [mine, theirs] = [named(true), named(false)]
  const own = reachedFrom(c, starts(isOwn), undefined, (node) => throughPack(c, problem, node, 'plus'))
  const others = reachedFrom(c, starts(isOther))
  const comes = (node: Node) => others.has(node) && !own.has(node)
  const isNamed = (node: Node, ids: ReadonlySet<string>) =>
    c.at.get(node)!.some((j) => j.by === 'lead' && ids.has(j.id))
  const shared = c.joins.flatMap((join) => {
    if (!join.selects || !join.nodes.some(comes)) return []
    const rest = join.nodes.filter((n) => !comes(n))
    const into = rest.filter((n) => own.has(n))
    const [may, said] = [rest.filter((n) => !own.has(n)), rest.filter((n) => !own.has(n) && isNamed(n, mine))]
    const outs = said.length > 0 ? said : may.filter((n) => !isNamed(n, theirs))
    // where it comes in is not known either
    if (into.length === 0 || outs.length === 0) return [{ join, ways: [[...into, ...outs]] }]
    return [{ join, ways: outs.map((out) => [...into, out]) }]
  })
  const all = new Map(shared.map(({ join, ways }): [Join, Node[]] => [join, [...new Set(ways.flat())]]))
  const count = shared.reduce((n, { ways }) => n * ways.length, 1)
  const each = (count > MOST ? [] : shared).reduce<ReadonlyMap<Join, Node[]>[]>(
    (made, { join, ways }) => made.flatMap((one) => ways.map((way) => new Map([...one, [join, way]]))),
    count > MOST ? [] : [new Map()],
  )
  return { all: joinedAs(c, all), each: each.map((one) => joinedAs(c, one)) }
}
