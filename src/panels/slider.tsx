/** A slider with its value in words, for the eye and for a screen reader. */

interface Props {
  readonly label: string
  readonly range: readonly [number, number]
  readonly step?: number
  readonly value: number
  readonly said: (value: number) => string
  readonly onChange: (value: number) => void
  /** How it lies among others. */
  readonly className: string
}

export function Slider({ label, range, step = 1, value, said, onChange, className }: Props) {
  const now = Math.min(range[1], Math.max(range[0], value))
  return (
    <label className={className}>
      <span>{label}</span>
      <input
        type="range"
        min={range[0]}
        max={range[1]}
        step={step}
        value={now}
        aria-valuetext={said(now)}
        onChange={(event) => onChange(Number(event.target.value))}
      />
      <output>{said(now)}</output>
    </label>
  )
}
