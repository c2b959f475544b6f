/** Below the stage: what was worked out, and items and wires as lists: all that the plan shows and does, in words and by keyboard. */
import { useDeferredValue } from 'react'
import type { ItemKeys } from '../plan/keys.ts'
import { Items } from './item-list.tsx'
import { Wires } from './item-wires.tsx'
import { Making } from './making.tsx'
import { ReportBar } from './report.tsx'
import { useDeck, useView } from './use.ts'

export function Lists({ keys }: { keys: ItemKeys }) {
  const view = useView(useDeck((s) => s.active))
  // When a project is opened the plan comes first, and these a moment later, in small steps.
  const there = useDeferredValue(true, false)
  if (!view || !there) return null
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
