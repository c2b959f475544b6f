/** Hatches: every role differs by its hatch as well as by its colour. Patterns are in millimetres. */

const HATCHES = [
  { id: 'keep-out', size: 2.6, d: 'M0 0L2.6 2.6M0 2.6L2.6 0' },
  { id: 'reserved', size: 3.2, d: 'M-.8 .8L.8 -.8M0 3.2L3.2 0M2.4 4L4 2.4' },
  { id: 'view', size: 3, d: 'M1.5 1.3v.4' },
  { id: 'underside', size: 2.8, d: 'M0 1.4h2.8' },
  { id: 'corridor', size: 2.4, d: 'M-.6 1.8L.6 3M0 0L2.4 2.4M1.8 -.6L3 .6' },
  { id: 'sweep', size: 3.6, d: 'M1.8 0v1.6' },
  { id: 'covered', size: 1.6, d: 'M0 1.6L1.6 0' },
  { id: 'stood', size: 4, d: 'M-1 1L1 -1M0 4L4 0M3 5L5 3' },
] as const

export type Hatch = (typeof HATCHES)[number]['id']

/** `scope` keeps the ids of several pictures on one page apart. */
export const hatch = (scope: string, id: Hatch): string => `url(#${scope}-${id})`

export function Hatches({ scope }: { scope: string }) {
  return (
    <defs>
      {HATCHES.map(({ id, size, d }) => (
        <pattern key={id} id={`${scope}-${id}`} width={size} height={size} patternUnits="userSpaceOnUse">
          <path d={d} className={`hatch hatch-${id}`} />
        </pattern>
      ))}
    </defs>
  )
}
