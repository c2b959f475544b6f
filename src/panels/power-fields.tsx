/** Fields of power and weight where they belong: at an item, at a lead that comes through, at a wire. */
import type { LoadFile, PowerFile } from '../../footprints/power-fields.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { TERMINAL_KINDS, type TerminalKind } from '../../solver/terminals.ts'
import type { ItemFields, WireFields } from '../model/edit-items.ts'
import { type EndKind, endsWith, type Fields, loadWith, powerWith } from '../model/edit-power.ts'
import type { Project, ProjectExit, ProjectItem, ProjectWire } from '../model/index.ts'
import { words } from '../words/index.ts'
import { Choice } from './entry-field.tsx'
import { LengthField, NumberEntry, type Refusal } from './length-field.tsx'

const w = words.power
const AMPERES = { least: 0, most: 10_000 }
const VOLTS = { least: 0, most: 10_000 }
const GRAMS = { least: 0, most: 1_000_000 }
const LOADS = [
  ['idle', w.ampere],
  ['running', w.ampere],
  ['stall', w.ampere],
  ['min', w.volt],
  ['max', w.volt],
] as const satisfies readonly (readonly [keyof LoadFile, string])[]

function Load({
  title,
  load,
  onLoad,
}: {
  title: string
  load: LoadFile | undefined
  onLoad: (fields: Fields<LoadFile>) => Refusal
}) {
  return (
    <fieldset className="deck-fields plain">
      <legend>{title}</legend>
      {LOADS.map(([field, unit]) => (
        <NumberEntry
          key={field}
          label={w.load[field]}
          unit={unit}
          value={load?.[field]}
          range={unit === w.volt ? VOLTS : AMPERES}
          onChange={(value) => onLoad({ [field]: value })}
          onEmpty={() => onLoad({ [field]: undefined })}
        />
      ))}
    </fieldset>
  )
}

const SUPPLY = [
  ['cells', w.cells, '', { least: 1, most: 1000, whole: true }],
  ['volts', w.cellVolts, w.volt, VOLTS],
  ['ohms', w.cellOhms, w.ohm, { least: 0, most: 10_000 }],
  ['capacity', w.capacity, w.ampereHour, { least: 0, most: 100_000 }],
] as const

export function ItemPower({
  item,
  footprint,
  set,
}: {
  item: ProjectItem
  footprint: FootprintFile | undefined
  set: (fields: ItemFields) => Refusal
}) {
  const usual: PowerFile | undefined = footprint?.power
  const put = (power: PowerFile | undefined): Refusal => set({ power } as ItemFields)
  const supply = item.power?.supply ?? usual?.supply
  const [lightest, heaviest] = item.stackMass ?? []
  return (
    <details>
      <summary>{w.itemTitle}</summary>
      <Load
        title={w.draws}
        load={item.power?.load ?? usual?.load}
        onLoad={(load) => put(powerWith(item.power, usual, { load }))}
      />
      <fieldset className="deck-fields plain">
        <legend>{w.gives}</legend>
        {SUPPLY.map(([field, label, unit, range]) => (
          <NumberEntry
            key={field}
            label={label}
            unit={unit}
            value={supply?.[field]}
            range={range}
            // What the other fields say of comes to nothing before there are volts.
            disabled={field !== 'volts' && supply === undefined}
            onChange={(value) => put(powerWith(item.power, usual, { supply: { [field]: value } }))}
            onEmpty={() => put(powerWith(item.power, usual, { supply: { [field]: undefined } }))}
          />
        ))}
      </fieldset>
      {((item.stack ?? 0) > 0 || item.stackMass) && (
        <fieldset className="deck-fields plain">
          <legend>{w.stackMass}</legend>
          <NumberEntry
            label={w.lightest}
            unit={w.gram}
            value={lightest}
            range={GRAMS}
            onChange={(least) => set({ stackMass: [least, Math.max(least, heaviest ?? least)] })}
            onEmpty={() => set({ stackMass: undefined } as ItemFields)}
          />
          <NumberEntry
            label={w.heaviest}
            unit={w.gram}
            value={heaviest}
            range={GRAMS}
            onChange={(most) => set({ stackMass: [Math.min(lightest ?? most, most), most] })}
            onEmpty={() => set({ stackMass: undefined } as ItemFields)}
          />
        </fieldset>
      )}
      {item.later === true && (
        <div className="deck-fields">
          <NumberEntry
            label={w.laterMass}
            unit={w.gram}
            value={item.laterMass}
            range={GRAMS}
            onChange={(laterMass) => set({ laterMass })}
            onEmpty={() => set({ laterMass: undefined } as ItemFields)}
          />
          <LengthField
            label={w.laterReach}
            value={item.laterReach}
            limits={{ least: 0, most: 10_000 }}
            onChange={(laterReach) => set({ laterReach })}
            onEmpty={() => set({ laterReach: undefined } as ItemFields)}
          />
        </div>
      )}
    </details>
  )
}

export function ExitPower({ exit, set }: { exit: ProjectExit; set: (fields: Fields<ProjectExit>) => Refusal }) {
  const carried = words.footprint.carried
  return (
    <>
      <Choice
        label={w.exitKind}
        value={exit.kind ?? ''}
        options={[['', w.unsaid], ...TERMINAL_KINDS.map((kind): [TerminalKind, string] => [kind, carried[kind]])]}
        onChange={(kind) => set({ kind: kind === '' ? undefined : kind })}
      />
      <Load title={w.exitLoad} load={exit.load} onLoad={(load) => set({ load: loadWith(exit.load, load) })} />
    </>
  )
}

const ENDS = Object.keys(w.ends) as EndKind[]
const PATHS = Object.keys(w.paths) as (keyof typeof w.paths)[]

/** Ids of the items that give a supply: packs, and regulators for what they make. */
const givers = (asked: Project, footprints: ReadonlyMap<string, FootprintFile>): string[] =>
  asked.items
    .filter(({ power, footprint }) => {
      const usual = footprints.get(footprint)?.power
      return power?.supply ?? usual?.supply ?? power?.output ?? usual?.output
    })
    .map(({ id }) => id)

export function WirePower({
  wire,
  asked,
  footprints,
  set,
}: {
  wire: ProjectWire
  asked: Project
  footprints: ReadonlyMap<string, FootprintFile>
  set: (fields: { [K in keyof WireFields]: WireFields[K] | undefined }) => Refusal
}) {
  const known = givers(asked, footprints)
  const supply = wire.supply ?? ''
  const options: (readonly [string, string])[] = [['', w.noSupply], ...known.map((id) => [id, id] as const)]
  // What the file says stays to be chosen, be it volts, a copy, or nothing that is there.
  if (!options.some(([key]) => key === String(supply)))
    options.push([String(supply), typeof supply === 'number' ? w.ofVolts(supply) : w.ofUnknown(supply)])
  const end = (which: 0 | 1, label: string) => (
    <Choice
      label={label}
      value={wire.ends?.[which] ?? ''}
      options={[['', w.unsaid], ...ENDS.map((kind): [EndKind, string] => [kind, w.ends[kind]])]}
      onChange={(kind) => set({ ends: endsWith(wire.ends, which, kind === '' ? undefined : kind) })}
    />
  )
  return (
    <fieldset className="fields">
      <legend>{w.wireTitle}</legend>
      <Choice
        label={w.supply}
        value={String(supply)}
        options={options}
        onChange={(id) => set({ supply: id === '' ? undefined : id })}
      />
      <Choice
        label={w.path}
        value={wire.path ?? ''}
        options={[['', w.unsaid], ...PATHS.map((path): [typeof path, string] => [path, w.paths[path]])]}
        onChange={(path) => set({ path: path === '' ? undefined : path })}
      />
      {end(0, w.from)}
      {end(1, w.to)}
      <label className="tick">
        <input
          type="checkbox"
          checked={wire.stranded === true}
          onChange={(event) => set({ stranded: event.target.checked || undefined })}
        />
        {w.stranded}
      </label>
    </fieldset>
  )
}
