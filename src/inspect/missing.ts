/** What the files do not say, and which field would be needed: a part is left out rather than made up. */
import { type Netlist, type PowerModel, padsOf } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'
import type { Missing } from './report.ts'
import { type Unsaid, missing as words } from './words.ts'

/** `there`: which parts of the report there are. */
export function missing(
  model: PowerModel,
  netlist: Netlist,
  there: { readonly leads: boolean; readonly balance: boolean },
  facts: PowerFacts,
): Missing[] {
  const { problem, bodies } = model.layout
  const found: Missing[] = []
  const say = (part: Missing['part'], unsaid: Unsaid) => found.push({ part, ...unsaid })
  const ids = (list: readonly { readonly item: { readonly id: string } }[]) => list.map((b) => b.item.id)
  /** Only where there is something to name. */
  const of = (part: Missing['part'], unsaid: (items: readonly string[]) => Unsaid, items: readonly string[]) => {
    if (items.length > 0) say(part, unsaid(items))
  }
  const now = bodies.filter((b) => !b.item.later)

  if (!there.leads) say('leads', words.wires)
  const bare = model.domains.flatMap((d) => d.leads.filter((l) => l.assumed).map((l) => l.id))
  of('leads', words.gauge, [...new Set(bare)])

  if (netlist.nets.length === 0) say('pins', words.nets)

  if (model.domains.length === 0) {
    say('power', words.supplies)
  } else {
    const cells = model.parts.filter((p) => p.power.supply)
    const without = (field: 'ohms' | 'capacity') =>
      ids(cells.filter((p) => p.power.supply![field] === undefined).map((p) => p.body))
    of('power', words.capacity, without('capacity'))
    of('power', words.ohms, without('ohms'))
    of('power', words.supply, ids(model.domains.filter((d) => d.leads.length === 0).map((d) => d.source.body)))
    of('power', words.load, muteParts(model))
    if (model.exits.length === 0 && problem.exits.some((e) => e.kind === 'motor-pair')) say('power', words.exitLoad)
  }
  of('before-power', words.unseen, facts.unseen)
  if (facts.motors.length === 0) say('before-power', words.motors)
  else if (facts.motorsGuessed) say('before-power', words.motorsGuessed)

  if (!there.balance) {
    say('balance', problem.chassis ? words.contactArea : words.chassis)
  } else {
    if (problem.chassis?.mass === 0) say('balance', words.chassisMass)
    of('balance', words.mass, ids(now.filter((b) => b.item.footprint.mass === 0)))
    of('balance', words.stackMass, ids(now.filter((b) => b.item.stack > 0 && !b.item.stackMass)))
  }

  const heads = now.filter((b) => b.item.footprint.head)
  const empty = heads.filter((b) => !b.item.footprint.head!.payload?.length && !b.item.footprint.head!.bracket?.length)
  of('heads', words.payload, ids(empty))
  const looks = now.some((b) => b.item.footprint.view || b.item.footprint.head?.view)
  if (!looks) say('views', words.view)
  if (!now.some((b) => b.item.footprint.corridors.some((c) => c.access))) say('access', words.access)
  return found
}

/** Items that a supply's lead ends at, and that neither say what they draw nor only hand it on. */
function muteParts(model: PowerModel): string[] {
  const ends = new Set(model.domains.flatMap((d) => d.leads.flatMap((l) => [l.a, l.b])))
  return model.parts.flatMap(({ item, power, body: { item: i } }): string[] => {
    const { load, output, supply, part } = power
    const handsOn = part === 'switch' || part === 'fuse' || i.footprint.breadboard !== undefined
    const pads = padsOf(i.footprint)
    if (!ends.has(item) || load || output || supply || handsOn || pads.every((p) => p.kind === 'passive')) return []
    return [i.id]
  })
}
