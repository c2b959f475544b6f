/** What stands in a file, shown from the file's own text or bytes. */
import { useEffect, useMemo, useState } from 'react'
import { words } from '../words/index.ts'
import { blobOf } from './download.ts'
import { dxfView } from './export-dxf-view.ts'
import type { Made, Shows } from './export-files.ts'
import { solidView } from './export-solid-view.ts'
import { Table } from './tables.tsx'

export function Preview({ made }: { made: Made }) {
  const { shows, title } = made
  switch (shows.kind) {
    case 'image':
      return <Picture made={made} shows={shows} />
    case 'dxf':
      return <Dxf title={title} file={String(made.data)} />
    case 'pdf':
      return <Pdf made={made} shows={shows} />
    case 'table':
      return <Table title={title} columns={shows.columns} rows={shows.rows} notes={shows.notes} />
    case 'solid':
      return <Solid data={made.data as Uint8Array} />
  }
}

/** An address for a file as long as it is on show. */
function useAddress({ data, type }: Made): string | undefined {
  const [address, setAddress] = useState<string>()
  useEffect(() => {
    const url = URL.createObjectURL(blobOf(data, type))
    setAddress(url)
    return () => URL.revokeObjectURL(url)
  }, [data, type])
  return address
}

const text = words.files

function Picture({ made, shows }: { made: Made; shows: Extract<Shows, { kind: 'image' }> }) {
  const address = useAddress(made)
  return (
    <figure className="preview">
      {address && <img className="paper" src={address} alt={text.asInFile(made.title)} />}
      <figcaption>{(shows.unit === 'mm' ? text.drawingSize : text.pictureSize)(shows.width, shows.height)}</figcaption>
    </figure>
  )
}

function Dxf({ title, file }: { title: string; file: string }) {
  const view = useMemo(() => dxfView(file), [file])
  return (
    <figure className="preview">
      <svg className="paper dxf" viewBox={view.box.join(' ')} role="img" aria-label={text.readBack(title)}>
        {view.layers.map((layer) => (
          <g key={layer.name} className={`layer-${layer.name.toLowerCase()}`}>
            <path d={layer.lines.join('')} />
            {layer.texts.map((t) => (
              <text key={`${t.x} ${t.y} ${t.text}`} x={t.x} y={t.y} fontSize={t.size}>
                {t.text}
              </text>
            ))}
          </g>
        ))}
      </svg>
      <figcaption>
        {text.dxfHow(
          view.unit,
          view.layers.map((l) => text.dxfLayer(l.name, l.lines.length, l.texts.length)),
        )}
      </figcaption>
    </figure>
  )
}

function Pdf({ made, shows }: { made: Made; shows: Extract<Shows, { kind: 'pdf' }> }) {
  const address = useAddress(made)
  return (
    <div className="preview">
      <p>{text.pages(shows.pages, shows.paper)}</p>
      {shows.maps.map((map) => (
        <figure key={map.deck} className="page-map">
          <svg
            viewBox={`${map.whole.x} ${map.whole.y} ${map.whole.width} ${map.whole.height}`}
            role="img"
            aria-label={text.sheetsOf(map.deck, map.sheets.length)}
          >
            {map.sheets.map((s) => (
              <g key={s.number}>
                <rect className="map-sheet" x={s.x} y={s.y} width={s.width} height={s.height} />
                <text x={s.x + s.width / 2} y={s.y + s.height / 2} fontSize={18} textAnchor="middle">
                  {s.number}
                </text>
              </g>
            ))}
            <rect className="map-plate" {...map.plate} />
          </svg>
          <figcaption>{text.sheetsAt(map.deck, map.sheets.length)}</figcaption>
        </figure>
      ))}
      {address && (
        <p>
          <a href={address} target="_blank" rel="noreferrer">
            {text.look[0]}
          </a>{' '}
          {text.look[1]}
        </p>
      )}
      {address && navigator.pdfViewerEnabled && (
        <iframe className="pages" src={address} title={text.pagesOf(made.name)} />
      )}
    </div>
  )
}

function Solid({ data }: { data: Uint8Array }) {
  const view = useMemo(() => solidView(data), [data])
  return (
    <div className="preview">
      <p>{text.solid(view.parts.length, view.triangles, Math.ceil(view.bytes / 1000))}</p>
      <ul className="part-list">
        {view.parts.map((part, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two parts may have one name
          <li key={i}>{part}</li>
        ))}
      </ul>
    </div>
  )
}
