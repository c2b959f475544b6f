/** What a terminal or a pin carries, in sentences. */
import type { Path } from '../../footprints/problems.ts'
import { TERMINAL_KINDS, type TerminalKind } from '../../solver/terminals.ts'
import { words } from '../words/index.ts'
import { CountField, Sentence } from './entry-field.tsx'
import { useDraft } from './footprint-draft.ts'
import { Count, Flag, Pick, Text, Tick, valueAt, Wrong } from './footprint-fields.tsx'

const t = words.footprint

const VOLTS = { least: -1000, most: 1000 }

/** Both or none stand in the file, so what was typed first counts for both. */
function Volts({ path }: { path: Path }) {
  const { footprint, set } = useDraft()
  const [low, high] = (valueAt(footprint, path) ?? []) as readonly (number | undefined)[]
  const empty = () => set(path, undefined)
  return (
    <span className="bench-field">
      <Sentence
        text={t.volts}
        slots={{
          low: (
            <CountField
              label={t.voltsLow}
              unseenLabel
              value={low}
              range={VOLTS}
              onChange={(n) => set(path, [n, Math.max(n, high ?? n)])}
              onEmpty={empty}
            />
          ),
          high: (
            <CountField
              label={t.voltsHigh}
              unseenLabel
              value={high}
              range={VOLTS}
              onChange={(n) => set(path, [Math.min(low ?? n, n), n])}
              onEmpty={empty}
            />
          ),
        }}
      />
      <Wrong path={path} />
    </span>
  )
}

/** What else it can be used as. */
function Also({ path, kind }: { path: Path; kind: unknown }) {
  const { footprint, set } = useDraft()
  const also = (valueAt(footprint, path) ?? []) as readonly TerminalKind[]
  const put = (one: TerminalKind, on: boolean): void => {
    const next = TERMINAL_KINDS.filter((k) => (k === one ? on : also.includes(k)))
    set(path, next.length > 0 ? next : undefined)
  }
  return (
    <fieldset className="bench-also">
      <legend>{t.also}</legend>
      {TERMINAL_KINDS.filter((k) => k !== kind).map((k) => (
        <Tick key={k} label={t.carried[k]} on={also.includes(k)} onChange={(on) => put(k, on)} />
      ))}
    </fieldset>
  )
}

export function Carries({ at }: { at: Path }) {
  const { footprint } = useDraft()
  return (
    <>
      <Text path={[...at, 'name']} label={t.terminalName} />
      <Pick
        path={[...at, 'kind']}
        label={t.carries}
        options={[['', t.carriesUnsaid], ...TERMINAL_KINDS.map((kind) => [kind, t.carried[kind]] as const)]}
      />
      <details className="bench-more">
        <summary>{t.more}</summary>
        <Volts path={[...at, 'volts']} />
        <Sentence
          text={t.conductors}
          slots={{
            n: (
              <Count
                path={[...at, 'conductors']}
                label={t.conductorsLabel}
                unseenLabel
                optional
                least={1}
                most={100}
                whole
              />
            ),
          }}
        />
        <Sentence text={t.inPlug} slots={{ plug: <Text path={[...at, 'plug']} label={t.inPlugLabel} unseenLabel /> }} />
        <Flag path={[...at, 'program']} label={t.program} />
        <Also path={[...at, 'also']} kind={valueAt(footprint, [...at, 'kind'])} />
      </details>
    </>
  )
}
