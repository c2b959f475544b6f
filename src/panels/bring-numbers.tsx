/** The question what the numbers of a board's files mean. */
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import { words } from '../words/index.ts'

const w = words.bring

/** What the numbers of a board's files mean, where the files do not say. */
export function NumbersQuestion({
  asks,
  numbers,
  onAnswer,
}: {
  asks: { readonly units: boolean; readonly zeros: boolean }
  numbers: DrillAnswers
  onAnswer: (numbers: DrillAnswers) => void
}) {
  return (
    <>
      {(asks.units || numbers.units) && (
        <label>
          {w.measuresIn}{' '}
          <select
            value={numbers.units ?? ''}
            onChange={(e) => onAnswer({ ...numbers, units: (e.target.value || undefined) as DrillAnswers['units'] })}
          >
            <option value="">{w.notSaid}</option>
            <option value="mm">{w.inMm}</option>
            <option value="inch">{w.inInches}</option>
          </select>
        </label>
      )}
      {(asks.zeros || numbers.suppressed) && (
        <label>
          {w.leavesOut}{' '}
          <select
            value={numbers.suppressed ?? ''}
            onChange={(e) =>
              onAnswer({ ...numbers, suppressed: (e.target.value || undefined) as DrillAnswers['suppressed'] })
            }
          >
            <option value="">{w.notSaid}</option>
            <option value="leading">{w.leadingZeros}</option>
            <option value="trailing">{w.trailingZeros}</option>
          </select>
        </label>
      )}
    </>
  )
}
