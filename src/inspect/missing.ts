/** What the files do not say, and which field would be needed: a part is left out rather than made up. */
import { type Netlist, names, type PowerModel, padsOf } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'
import type { Missing } from './report.ts'

/** `there`: which parts of the report there are. */
export function missing(
  model: PowerModel,
  netlist: Netlist,
  there: { readonly leads: boolean; readonly balance: boolean },
  facts: PowerFacts,
): Missing[] {
  const { problem, bodies } = model.layout
  const found: Missing[] = []
  const say = (part: Missing['part'], text: string) => found.push({ part, text })
  const ids = (list: readonly { readonly item: { readonly id: string } }[]) => names(list.map((b) => b.item.id))
  const now = bodies.filter((b) => !b.item.later)

  if (!there.leads) say('leads', 'No leads are looked at: the project has no `wires` whose ends are placed.')
  const bare = model.domains.flatMap((d) => d.leads.filter((l) => l.assumed).map((l) => l.id))
  if (bare.length > 0)
    say('leads', `No \`gauge\` in AWG is given for ${names([...new Set(bare)])}: 22 AWG is taken, and named so.`)

  if (netlist.nets.length === 0)
    say('pins', 'No pin table and no contact plan: the project has no `nets`, which say what is joined to what.')

  if (model.domains.length === 0) {
    say(
      'power',
      'No currents, voltages or run times: no placed item says by `power.supply` or `power.output` what it gives.',
    )
  } else {
    const cells = model.parts.filter((p) => p.power.supply)
    const without = (field: 'ohms' | 'capacity', text: (who: string) => string) => {
      const list = cells.filter((p) => p.power.supply![field] === undefined)
      if (list.length > 0) say('power', text(ids(list.map((p) => p.body))))
    }
    without('capacity', (who) => `No run time of ${who}: its \`power.supply.capacity\` is not given.`)
    without(
      'ohms',
      (who) => `${who} gives no \`power.supply.ohms\`: what the cells themselves lose is not in the voltages.`,
    )
    const alone = model.domains.filter((d) => d.leads.length === 0).map((d) => d.source.body)
    if (alone.length > 0)
      say('power', `Nothing is reckoned of what ${ids(alone)} could give: no lead says so by \`supply\`.`)
    const mute = muteParts(model)
    if (mute.length > 0)
      say('power', `${names(mute)} ${mute.length === 1 ? 'draws' : 'draw'} nothing here: no \`power.load\` is given.`)
    if (model.exits.length === 0 && problem.exits.some((e) => e.kind === 'motor-pair'))
      say('power', 'The motors draw nothing here: no exit says by `load` what the motor behind it draws.')
  }
  if (facts.motors.length === 0)
    say('before-power', 'The check list names no motor: no lead goes to an exit, and no item is one by `power.part`.')
  else if (facts.motorsGuessed)
    say(
      'before-power',
      'No exit says by `kind` ("motor-pair") or `load` that a motor is behind it: in the check list every lead that comes through a deck is taken for a motor\'s.',
    )

  if (!there.balance) {
    say(
      'balance',
      problem.chassis
        ? 'No balance: the `contact` of `chassis` has no area.'
        : 'No balance: the project has no `chassis` with `contact`, `mass` and `centre`.',
    )
  } else {
    const light = now.filter((b) => b.item.footprint.mass === 0)
    if (light.length > 0) say('balance', `The balance takes ${ids(light)} to weigh nothing: no \`mass\` is given.`)
    const stacks = now.filter((b) => b.item.stack > 0 && !b.item.stackMass)
    if (stacks.length > 0)
      say('balance', `The balance takes what is stacked on ${ids(stacks)} to weigh nothing: no \`stackMass\` is given.`)
  }

  const heads = now.filter((b) => b.item.footprint.head)
  const empty = heads.filter((b) => !b.item.footprint.head!.payload?.length && !b.item.footprint.head!.bracket?.length)
  if (empty.length > 0)
    say('heads', `What ${ids(empty)} truly sweeps is not known: its \`head\` says no \`payload\` and no \`bracket\`.`)
  const looks = now.some((b) => b.item.footprint.view || b.item.footprint.head?.view)
  if (!looks) say('views', 'No view is looked at: no placed footprint says by `view` what it looks at.')
  if (!now.some((b) => b.item.footprint.corridors.some((c) => c.access)))
    say(
      'access',
      'Nothing is known to need a hand: no `corridors` of a placed footprint say `access` (cells, program, reset, switch).',
    )
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
