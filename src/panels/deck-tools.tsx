/** What a drag on the deck's plan makes, and the sizes that it makes it with. */
import { lengthText } from '../model/lengths.ts'
import { ZONES } from '../model/schema.ts'
import { otherDeck, TOOLS, type ToolSizes } from '../store/deck-draft.ts'
import { words } from '../words/index.ts'
import { useDraft, useDraftStore, useProject } from './deck-use.ts'
import { LengthField } from './length-field.tsx'

const w = words.deck

/** Sizes that a tool makes with. */
const ASKS: Readonly<Record<(typeof TOOLS)[number], readonly (keyof ToolSizes)[]>> = {
  move: [],
  opening: ['radius'],
  slot: ['slotWidth'],
  round: [],
  hole: ['diameter'],
  pillar: ['diameter', 'pillarWidth'],
  lead: [],
  pass: [],
  zone: [],
}

export function DeckTools() {
  const draft = useDraft((d) => d)
  const store = useDraftStore()
  const project = useProject()
  const size = (key: keyof ToolSizes, least: number) => (
    <LengthField
      key={key}
      label={w[key]}
      value={draft.sizes[key]}
      limits={{ least, most: 200 }}
      onChange={(value) => {
        store.setState({ sizes: { ...store.getState().sizes, [key]: value } })
        return undefined
      }}
    />
  )
  const leads = draft.tool === 'pillar' || draft.tool === 'pass'
  const other = otherDeck(project, draft)
  return (
    <fieldset className="deck-tools">
      <legend>{w.tools}</legend>
      <div className="deck-tool-row">
        <div className="deck-choices">
          {TOOLS.map((tool) => (
            <label key={tool}>
              <input
                type="radio"
                name="deck-tool"
                checked={draft.tool === tool}
                onChange={() => store.setState({ tool, drag: undefined })}
              />
              <span>{w.tool[tool]}</span>
            </label>
          ))}
        </div>
        <div className="deck-fields">
          {size('step', 0)}
          {ASKS[draft.tool].map((key) => size(key, key === 'radius' || key === 'pillarWidth' ? 0 : 0.1))}
          {draft.tool === 'zone' && (
            <label className="deck-choice">
              {w.zoneKind}
              <select
                value={draft.zone}
                onChange={(e) => store.setState({ zone: e.target.value as (typeof ZONES)[number] })}
              >
                {ZONES.map((kind) => (
                  <option key={kind} value={kind}>
                    {w.zoneKinds[kind]}
                  </option>
                ))}
              </select>
            </label>
          )}
          {leads && other === undefined && <p className="field-wrong">{w.needsTwo}</p>}
          {leads && project.decks.length > 2 && (
            <label className="deck-choice">
              {w.otherDeck}
              <select value={other} onChange={(e) => store.setState({ other: e.target.value })}>
                {project.decks
                  .filter((d) => d.id !== draft.deck)
                  .map((d) => (
                    <option key={d.id} value={d.id}>
                      {w.deckAt(d.name ?? d.id, lengthText(d.z))}
                    </option>
                  ))}
              </select>
            </label>
          )}
        </div>
      </div>
    </fieldset>
  )
}
