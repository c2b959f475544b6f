/** Below the stage: what was worked out, and items and wires as lists: all that the plan shows and does, in words and by keyboard. */
import type { ItemKeys } from '../plan/keys.ts'
import { Items } from './item-list.tsx'
import { Wires } from './item-wires.tsx'
import { Making } from './making.tsx'
import { ReportBar } from './report.tsx'
import { useDeck, useView } from './use.ts'

export function Lists({ keys }: { keys: ItemKeys }) {
  const view = useView(useDeck((s) => s.active))
  if (!view) return null
  return (
    <>
      <ReportBar view={view} />
      <div className="lists">
        <Items view={view} keys={keys} />
        <div>
          <Wires view={view} />
          <Making view={view} />
        </div>
      </div>
    </>
  )
}
