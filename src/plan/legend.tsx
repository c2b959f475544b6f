/** How to read the plan: every role by its colour and by its hatch or outline. */
import { words } from '../words/index.ts'
import { Hatches, hatch } from './hatches.tsx'

const ROLES = [
  ['free', <path key="f" className="free" d="M4 3h0M7 3h0M10 3h0M4 6h0M7 6h0M10 6h0" />],
  [
    'covered',
    <path
      key="c"
      className="covered"
      d="M3.2 2.2l1.6 1.6M6.2 2.2l1.6 1.6M9.2 2.2l1.6 1.6M3.2 5.2l1.6 1.6M6.2 5.2l1.6 1.6"
    />,
  ],
  ['body', <rect key="b" className="body" x={2} y={1} width={10} height={7} rx={0.6} />],
  ['corridor', <rect key="r" className="corridor" x={2} y={1} width={10} height={7} fill={hatch('key', 'corridor')} />],
  ['sweep', <path key="s" className="sweep" d="M7 8L2 3a7 7 0 0 1 10 0z" fill={hatch('key', 'sweep')} />],
  [
    'keepOut',
    <rect key="k" className="zone zone-keep-out" x={2} y={1} width={10} height={7} fill={hatch('key', 'keep-out')} />,
  ],
  [
    'reserved',
    <rect key="v" className="zone zone-reserved" x={2} y={1} width={10} height={7} fill={hatch('key', 'reserved')} />,
  ],
  [
    'underside',
    <rect key="u" className="zone zone-underside" x={2} y={1} width={10} height={7} fill={hatch('key', 'underside')} />,
  ],
  ['view', <rect key="w" className="zone zone-view" x={2} y={1} width={10} height={7} fill={hatch('key', 'view')} />],
  ['wrong', <rect key="x" className="edge faulty-sample" x={2} y={1} width={10} height={7} rx={1} />],
  ['strip', <path key="t" className="free-strip" d="M4 1.5v6M7 1.5v6M10 1.5v6" />],
  ['block', <rect key="l" className="free-block" x={2} y={1} width={10} height={7} rx={1} />],
  ['wire', <path key="i" className="wire strong" d="M2 7V2h10" />],
  ['tight', <path key="g" className="wire strong tight" d="M2 7V2h10" />],
  ['barred', <path key="d" className="wire strong barred" d="M2 7V2h10" />],
  ['ghost', <rect key="h" className="ghost" x={2} y={1} width={10} height={7} rx={0.6} />],
  ['guide', <path key="n" className="guide guide-edge" d="M1 4.5h12" />],
  ['stood', <rect key="o" className="stood-body" x={2} y={1} width={10} height={7} fill={hatch('key', 'stood')} />],
] as const

export function Legend() {
  return (
    <details className="legend">
      <summary>{words.plan.legend}</summary>
      <ul>
        {ROLES.map(([name, sample]) => (
          <li key={name}>
            <svg viewBox="0 0 14 9" width={42} height={27} aria-hidden="true" focusable="false">
              <Hatches scope="key" />
              {sample}
            </svg>
            {words.plan.role[name]}
          </li>
        ))}
      </ul>
    </details>
  )
}
