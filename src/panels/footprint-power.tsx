/** What a part is, draws and gives for power. */
import { POWER_PARTS } from '../../footprints/power-fields.ts'
import type { Path } from '../../footprints/problems.ts'
import { words } from '../words/index.ts'
import { Sentence } from './entry-field.tsx'
import { Count, Flag, Group, Having, Pick } from './footprint-fields.tsx'

const t = words.footprint.power
const MOST = 10_000

const amount = (path: Path, label: string, least = 0, most = MOST, optional = true) => (
  <Count path={path} label={label} unseenLabel least={least} most={most} optional={optional} />
)
const whole = (path: Path, label: string) => (
  <Count path={path} label={label} unseenLabel idle={1} least={1} most={1000} whole />
)

export function Power() {
  const load = (field: string) => amount(['power', 'load', field], t.labels[field as keyof typeof t.labels])
  return (
    <Group title={t.title}>
      <p className="quiet">{t.intro}</p>
      <Having path={['power']} label={t.says} fresh={{}}>
        <div className="fields">
          <Pick
            path={['power', 'part']}
            label={t.part}
            options={[['', t.noPart], ...POWER_PARTS.map((part) => [part, t.parts[part]] as const)]}
          />
        </div>
        <Having path={['power', 'load']} label={t.draws} fresh={{}}>
          <Sentence
            text={t.load}
            slots={{
              idle: load('idle'),
              running: load('running'),
              stall: load('stall'),
              min: load('min'),
              max: load('max'),
            }}
          />
        </Having>
        <Having path={['power', 'supply']} label={t.gives} fresh={{ cells: 1, volts: 1.5 }}>
          <Sentence
            text={t.supply}
            slots={{
              cells: whole(['power', 'supply', 'cells'], t.labels.cells),
              parallel: whole(['power', 'supply', 'parallel'], t.labels.parallel),
              volts: amount(['power', 'supply', 'volts'], t.labels.volts, 0, MOST, false),
              ohms: amount(['power', 'supply', 'ohms'], t.labels.ohms),
              capacity: amount(['power', 'supply', 'capacity'], t.labels.capacity, 0, 100_000),
              fuse: amount(['power', 'supply', 'fuse'], t.labels.fuse),
            }}
          />
          <Flag path={['power', 'supply', 'switched']} label={t.switched} />
        </Having>
        <Having path={['power', 'output']} label={t.makes} fresh={{ volts: 5 }}>
          <Sentence
            text={t.output}
            slots={{
              volts: amount(['power', 'output', 'volts'], t.labels.output, 0, MOST, false),
              efficiency: amount(['power', 'output', 'efficiency'], t.labels.efficiency, 0.01, 1),
            }}
          />
        </Having>
        <Sentence text={t.rating} slots={{ rating: amount(['power', 'rating'], t.labels.rating) }} />
      </Having>
      <p className="quiet">{t.caution}</p>
    </Group>
  )
}
