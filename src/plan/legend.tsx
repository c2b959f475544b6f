/** How to read the plan: every role by its colour and by its hatch or outline. */
import { Hatches, hatch } from './hatches.tsx'

const ROLES = [
  ['free contact', <path key="f" className="free" d="M4 3h0M7 3h0M10 3h0M4 6h0M7 6h0M10 6h0" />],
  [
    'covered contact',
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
    'kept out',
    <rect key="k" className="zone zone-keep-out" x={2} y={1} width={10} height={7} fill={hatch('key', 'keep-out')} />,
  ],
  [
    'reserved',
    <rect key="v" className="zone zone-reserved" x={2} y={1} width={10} height={7} fill={hatch('key', 'reserved')} />,
  ],
  [
    'no holes',
    <rect key="u" className="zone zone-underside" x={2} y={1} width={10} height={7} fill={hatch('key', 'underside')} />,
  ],
  ['view', <rect key="w" className="zone zone-view" x={2} y={1} width={10} height={7} fill={hatch('key', 'view')} />],
  ['something wrong', <rect key="x" className="edge faulty-sample" x={2} y={1} width={10} height={7} rx={1} />],
] as const

export function Legend() {
  return (
    <details className="legend">
      <summary>How to read the plan</summary>
      <ul>
        {ROLES.map(([name, sample]) => (
          <li key={name}>
            <svg viewBox="0 0 14 9" width={42} height={27} aria-hidden="true" focusable="false">
              <Hatches scope="key" />
              {sample}
            </svg>
            {name}
          </li>
        ))}
      </ul>
    </details>
  )
}
