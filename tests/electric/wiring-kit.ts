/** A pack or two, fuses, switches and loads, joined as a few words say, for the tests of what is behind what. */
import { inspect } from '../../src/inspect/index.ts'
import { part, placed, problemOf, project } from './kit.ts'

const t = (id: string, kind: string, at: number, more: object = {}) => ({
  id,
  kind,
  at: [at, 0],
  conductors: 6,
  ...more,
})
const ways = (...ids: string[]) => ids.map((id, i) => t(id, 'passive', 4 * i))
const KINDS = {
  pack: {
    terminals: [t('plus', 'supply-out', 0), t('minus', 'return', 4)],
    power: { supply: { cells: 2, volts: 3, ohms: 0.01 } },
  },
  /** A pack that says nothing of its cells. */
  mute: { kind: 'pack', terminals: [t('plus', 'supply-out', 0), t('minus', 'return', 4)] },
  fuse: { terminals: ways('in', 'out'), power: { part: 'fuse', rating: 2 } },
  /** A fuse that says nothing of its terminals. */
  plain: { terminals: ways('in', 'out').map(({ kind, ...more }) => more), power: { part: 'fuse', rating: 2 } },
  /** A fuse and a switch with a side that takes and one that gives. */
  through: { terminals: [t('in', 'supply-in', 0), t('out', 'supply-out', 4)], power: { part: 'fuse', rating: 2 } },
  passing: { terminals: [t('in', 'supply-in', 0), t('out', 'supply-out', 4)], power: { part: 'switch' } },
  weak: { terminals: ways('in', 'out'), power: { part: 'fuse', rating: 1.1 } },
  switch: { terminals: ways('in', 'out'), power: { part: 'switch' } },
  /** In the way back. */
  negative: { terminals: [t('in', 'return', 0), t('out', 'return', 4)], power: { part: 'switch' } },
  /** With a lamp inside. */
  rocker: { terminals: [...ways('in', 'out'), t('led', 'return', 8)], power: { part: 'switch' } },
  double: { terminals: ways('in', 'out', 'in-2', 'out-2'), power: { part: 'switch' } },
  /** A switch only by the room that it keeps for a hand. */
  toggle: {
    terminals: ways('in', 'out'),
    corridors: [{ id: 'hand', shape: { rect: [0, 0, 20, 10] }, z: [10, 30], why: 'a finger', access: 'switch' }],
  },
  block: { terminals: ways('a', 'b') },
  lamp: { terminals: [t('plus', 'supply-in', 0), t('minus', 'return', 4)], power: { load: { running: 1 } } },
  /** A pack of half the volts that the chip takes. */
  cell: {
    terminals: [t('plus', 'supply-out', 0, { volts: [1.5, 1.5] }), t('minus', 'return', 4)],
    power: { supply: { cells: 1, volts: 1.5 } },
  },
  chip: { terminals: [t('plus', 'logic-in', 0, { volts: [3, 3.6] }), t('minus', 'return', 4)] },
  logic: {
    terminals: [t('plus', 'supply-in', 0), t('minus', 'return', 4), t('tx', 'serial-out', 8), t('rx', 'serial-in', 12)],
  },
  regulator: {
    terminals: [
      t('in', 'supply-in', 0, { volts: [5, 12] }),
      t('minus', 'return', 4),
      t('out', 'logic-out', 8, { volts: [5, 5] }),
      t('back', 'return', 12),
    ],
    power: { part: 'regulator', output: { volts: 5 } },
  },
  /** One that makes fewer volts at a second output. */
  both: {
    terminals: [
      t('in', 'supply-in', 0),
      t('minus', 'return', 4),
      t('five', 'logic-out', 8, { volts: [4.9, 5.1] }),
      t('three', 'logic-out', 12, { volts: [3.2, 3.4] }),
    ],
    power: { part: 'regulator', output: { volts: 5 } },
  },
  /** One that says nothing of its terminals. */
  dim: {
    terminals: ways('a', 'b').map(({ kind, ...more }) => more),
    power: { part: 'regulator', output: { volts: 5 } },
  },
  /** Cells and a regulator in one. */
  bank: {
    kind: 'pack',
    terminals: [t('plus', 'supply-out', 0), t('minus', 'return', 4)],
    power: { supply: { cells: 1, volts: 3.7 }, output: { volts: 5 } },
  },
}

const end = (s: string) => ({ item: s.split('.')[0], terminal: s.split('.')[1] })
const out = { supply: 'pack', conductors: 1, path: 'out' }

/** What leads say of themselves, by a mark behind their ends: `>` out, `<` back and `1` neither, single, of the supply `pack`; `=` a pair of it; `2` two conductors that say nothing. `=pack-2` is that pack's. */
const MARKS: Record<string, object> = {
  '>': out,
  '<': { ...out, path: 'back' },
  '1': { supply: 'pack', conductors: 1 },
  '=': { supply: 'pack', conductors: 2 },
  '2': { conductors: 2 },
}

/**
 * Items by their ids: what an id begins with is its kind, as `fuse-2` is a fuse. `nets`: `'pack.plus fuse.in'`, led through a switch with
 * `@master`. `leads`: `'pack.plus fuse.in >'`. Both are called by their order, `n1` and `w1`.
 */
export function wiring(ids: string, nets: readonly string[], leads: readonly string[] = [], supply = 'pack') {
  const items = ids.split(' ')
  const file = project({
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 40 * items.length, 80] } }],
    footprints: Object.entries(KINDS).map(([id, more]) => part(id, 20, 10, more)),
    items: items.map((id) => ({ id, footprint: id.split('-')[0] })),
    nets: nets.map((net, i) => {
      const by = net.match(/ @(\S+)/)?.[1]
      const ends = net.replace(/ @\S+/, '').split(' ').map(end)
      return { id: `n${i + 1}`, ends, ...(by ? { switch: by } : {}) }
    }),
    wires: leads.map((lead, i) => {
      const [from, to, [mark = '', ...of] = ''] = lead.split(' ')
      const says = MARKS[mark]
      const said = says && { ...says, gauge: 12, ...('supply' in says ? { supply: of.join('') || supply } : {}) }
      return { id: `w${i + 1}`, from: end(from!), to: end(to!), ...said }
    }),
  })
  const problem = problemOf(file)
  const at = placed(problem, Object.fromEntries(items.map((id, i) => [id, [40 * i, 10] as const])))
  return inspect(file, new Map(), problem, at)
}

/** Of each pack that has no fuse, or no switch, that everything is behind: findings and check list, which have to agree. */
export function lacks(report: ReturnType<typeof wiring>) {
  const of = (kind: string) => report.findings.flatMap((f) => (f.kind === kind ? f.items.slice(0, 1) : []))
  const asked = (words: RegExp) => report.beforePower.steps.flatMap((s) => (words.test(s.text) ? s.items : []))
  const noSwitch = report.beforePower.steps.some((s) => /names no master switch/.test(s.text))
  return {
    fuse: of('no-fuse'),
    listFuse: asked(/^Fit a fuse/),
    switch: of('no-master-switch'),
    listSwitch: noSwitch ? of('no-master-switch') : asked(/^Keep the plug/),
  }
}

/** What is said of shorts, of the wrong way round and of supplies that meet. */
export const clashes = (report: ReturnType<typeof wiring>): string[] =>
  report.findings.flatMap((f) => (['kinds-apart', 'supplies-meet'].includes(f.kind) ? [`${f.weight}: ${f.text}`] : []))

/** What is connected and measured, and what is switched on and off with it. */
export const turns = (...robot: Parameters<typeof wiring>) =>
  wiring(...robot).beforePower.steps.flatMap((s) =>
    /^(Connect|With|Measure at)/.test(s.text)
      ? [s.text.replace(/: .*?\. (Only|Wait)|\. Measure.*?(Wait)/, '. $1$2')]
      : [],
  )
/** The same of packs alone, without what is measured. */
export const connects = (...robot: Parameters<typeof wiring>) =>
  turns(...robot).flatMap((s) => s.match(/^(?:Connect|With) [^.]*/) ?? [])
