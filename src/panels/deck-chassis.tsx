/** Where the robot touches the ground, what it weighs and where: for the balance. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { chassisFrom, lowestDeck, type ProjectChassis, setChassis } from '../model/edit-deck.ts'
import { boxOf } from '../store/outline.ts'
import { words } from '../words/index.ts'
import { useEdit, useProject } from './deck-use.ts'
import { LengthField, NumberEntry } from './length-field.tsx'

const w = words.deck
const PLACE = { least: -10_000, most: 10_000 }

export function DeckChassis() {
  const project = useProject()
  const edit = useEdit()
  const { chassis } = project
  const set = (fields: Partial<ProjectChassis>) => edit(setChassis(project, { ...chassis!, ...fields }))
  if (!chassis) {
    const deck = lowestDeck(project)
    const { x, y, w: width, h } = boxOf(shapeToSolver(deck.outline))
    return (
      <>
        <p className="quiet">{w.noChassis}</p>
        <div className="group">
          <button
            type="button"
            onClick={() => edit(setChassis(project, chassisFrom([x / 1000, y / 1000, width / 1000, h / 1000], deck.z)))}
          >
            {w.addChassis}
          </button>
        </div>
      </>
    )
  }
  const { centre, contact } = chassis
  const corner = (k: number, to: [number, number]) =>
    set({ contact: contact.map((p, i) => (i === k ? to : p)) as ProjectChassis['contact'] })
  const between = (): [number, number] => {
    const [a, b] = [contact.at(-1)!, contact[0]!]
    return [Math.round((a[0] + b[0]) / 2), Math.round((a[1] + b[1]) / 2)]
  }
  return (
    <>
      <div className="deck-fields">
        <NumberEntry
          label={w.mass}
          unit={w.grams}
          value={chassis.mass}
          range={{ least: 0, most: 1_000_000 }}
          onChange={(mass) => set({ mass })}
        />
      </div>
      {chassis.mass === 0 && <p className="quiet">{w.noMass}</p>}
      <fieldset className="deck-fields plain">
        <legend>{w.centre}</legend>
        {([w.centreX, w.centreY, w.centreZ] as const).map((label, k) => (
          <LengthField
            key={label}
            label={label}
            value={centre[k]}
            limits={PLACE}
            onChange={(v) => set({ centre: centre.map((c, i) => (i === k ? v : c)) as [number, number, number] })}
          />
        ))}
      </fieldset>
      <fieldset className="plain">
        <legend>{w.contact}</legend>
        {contact.map((p, k) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a corner has no other name than its number
          <fieldset key={k} className="deck-fields deck-row">
            <legend className="unseen">{w.corner(k + 1)}</legend>
            <span aria-hidden="true">{w.corner(k + 1)}</span>
            <LengthField label={w.x} value={p[0]} limits={PLACE} onChange={(x) => corner(k, [x, p[1]])} />
            <LengthField label={w.y} value={p[1]} limits={PLACE} onChange={(y) => corner(k, [p[0], y])} />
            {contact.length > 3 && (
              <button
                type="button"
                className="deck-remove"
                aria-label={w.removeOne(w.corner(k + 1))}
                onClick={() => set({ contact: contact.filter((_, i) => i !== k) })}
              >
                {w.removeShort}
              </button>
            )}
          </fieldset>
        ))}
      </fieldset>
      <div className="group">
        <button type="button" onClick={() => set({ contact: [...contact, between()] })}>
          {w.addCorner}
        </button>
        <button type="button" onClick={() => edit(setChassis(project, undefined))}>
          {w.removeChassis}
        </button>
      </div>
    </>
  )
}
