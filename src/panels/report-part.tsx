/** One part of the report, to be read, ticked, printed or copied as text. */
import { useDeferredValue, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { layers } from '../store/layers.ts'
import { type Block, type Line, type PartName, textOf } from '../store/report-blocks.ts'
import { partBlocks } from '../store/report-parts.ts'
import { checkSteps } from '../store/report-robot.ts'
import { shelf } from '../store/shelf.ts'
import { keepTicks, layoutKey, recallTicks } from '../store/ticks.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { PoseSliders, SlopeSliders } from './report-sliders.tsx'
import { useReport, useReports } from './report-use.ts'
import { TableRoom } from './table-room.tsx'

const text = words.report

/** Sentences that speak of something on the deck light it. */
function Sentences({ lines }: { lines: readonly Line[] }) {
  const { choose } = useReports()
  const chosen = useReport((s) => s.chosen?.text)
  return (
    <ul className="report-lines">
      {lines.map((l, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: sentences may be alike, and are never sorted
        <li key={k}>
          {l.items.length === 0 ? (
            l.text
          ) : (
            <button
              type="button"
              className="sentence"
              aria-pressed={chosen === l.text}
              onClick={() => choose(l.text, l.items)}
            >
              {l.text}
            </button>
          )}
        </li>
      ))}
    </ul>
  )
}

function Shown({ block }: { block: Block }) {
  if (block.kind === 'table')
    return (
      <TableRoom title={block.title} columns={block.columns}>
        {block.rows.map((row, r) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name, and are never sorted
          <tr key={r}>
            {row.cells.map((cell, c) =>
              c === 0 ? (
                <th key={block.columns[c]} scope="row">
                  {cell}
                </th>
              ) : (
                <td key={block.columns[c]}>{cell}</td>
              ),
            )}
          </tr>
        ))}
      </TableRoom>
    )
  return (
    <div className={block.kind === 'cautions' ? 'report-cautions' : undefined}>
      {block.title !== undefined && <h4>{block.title}</h4>}
      <Sentences lines={block.lines} />
    </div>
  )
}

interface ChecksProps {
  readonly steps: readonly Line[]
  readonly done: ReadonlySet<string>
  readonly onTick: (done: ReadonlySet<string>) => void
  readonly kept: boolean
}

function Checks({ steps, done, onTick, kept }: ChecksProps) {
  const t = text.first
  const ticked = steps.filter((s) => done.has(s.text)).length
  return (
    <div>
      <h4>{t.steps}</h4>
      <ol className="checks">
        {steps.map((s) => (
          <li key={s.text}>
            <label>
              <input
                type="checkbox"
                checked={done.has(s.text)}
                onChange={(event) => {
                  const now = new Set(done)
                  if (event.target.checked) now.add(s.text)
                  else now.delete(s.text)
                  onTick(now)
                }}
              />
              <span>{s.text}</span>
            </label>
          </li>
        ))}
      </ol>
      <p role="status">{t.ticked(ticked, steps.length)}</p>
      <p className="quiet">{kept ? t.kept : t.notKept}</p>
      <button type="button" disabled={ticked === 0} onClick={() => onTick(new Set())}>
        {t.untick}
      </button>
    </div>
  )
}

/** Prints the part that is open and nothing else of the page. */
function printPart(): void {
  const page = document.documentElement
  page.dataset.prints = 'report'
  const over = (): void => {
    delete page.dataset.prints
  }
  window.addEventListener('afterprint', over, { once: true })
  window.print()
}

export default function ReportPart({ part, view }: { part: PartName; view: View }) {
  const report = useReport((s) => s.report)
  const of = useReport((s) => s.of)
  const look = useDeferredValue(useStore(layers().store))
  const [said, setSaid] = useState('')
  const key = of ? layoutKey(of.problem, of.placements) : ''
  const [ticks, setTicks] = useState<{
    readonly key: string
    readonly done: ReadonlySet<string>
    readonly kept: boolean
  }>()
  const done = useMemo(() => (ticks?.key === key ? ticks.done : recallTicks(shelf(), key)), [ticks, key])
  const blocks = useMemo(
    () => (report && of ? partBlocks(part, report, of, look, done) : []),
    [part, report, of, look, done],
  )
  if (!report || !of) return <p className="quiet">{text.nothingYet}</p>
  const title = `${text.of(report.project, report.variant)}: ${text.part[part]}`
  const copy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(textOf(title, blocks))
      setSaid(text.copied)
    } catch {
      setSaid(text.notCopied)
    }
  }
  const steps = part === 'first' ? checkSteps(report, of.problem) : []
  // Steps to tick stand where the others have lines of text.
  const shown = blocks.filter((b) => part !== 'first' || b.title !== text.first.steps)
  return (
    <section className="report-part" aria-label={text.part[part]}>
      <h3>
        {text.part[part]} <small>{text.of(report.project.split(':')[0] ?? '', report.variant)}</small>
      </h3>
      {part === 'balance' && report.balance && <SlopeSliders />}
      {part === 'head' && report.heads.length > 0 && <PoseSliders view={view} />}
      {shown.map((block, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: blocks have no other name, and are never sorted
        <Shown key={k} block={block} />
      ))}
      {part === 'first' && (
        <Checks
          steps={steps}
          done={done}
          kept={ticks?.kept !== false}
          onTick={(now) => setTicks({ key, done: now, kept: keepTicks(shelf(), key, now) })}
        />
      )}
      <div className="group report-tools">
        <button type="button" onClick={copy}>
          {text.copy}
        </button>
        <button type="button" onClick={printPart}>
          {text.print}
        </button>
        <span role="status">{said}</span>
      </div>
    </section>
  )
}
