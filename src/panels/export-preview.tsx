/** What stands in a file, shown from the file's own text or bytes. */
import { useEffect, useMemo, useState } from 'react'
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
      return <Dxf title={title} text={String(made.data)} />
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

const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`

function Picture({ made, shows }: { made: Made; shows: Extract<Shows, { kind: 'image' }> }) {
  const address = useAddress(made)
  return (
    <figure className="preview">
      {address && <img className="paper" src={address} alt={`${made.title}, as it stands in the file`} />}
      <figcaption>
        {shows.width} × {shows.height} {shows.unit === 'mm' ? 'mm, notes and all, at 1:1' : 'pixels'}
      </figcaption>
    </figure>
  )
}

function Dxf({ title, text }: { title: string; text: string }) {
  const view = useMemo(() => dxfView(text), [text])
  return (
    <figure className="preview">
      <svg
        className="paper dxf"
        viewBox={view.box.join(' ')}
        role="img"
        aria-label={`${title}, read back from the file`}
      >
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
        Read back from the file; one unit is one {view.unit}.{' '}
        {view.layers
          .map((l) => {
            const parts = [
              l.lines.length > 0 ? count(l.lines.length, 'line') : '',
              l.texts.length > 0 ? count(l.texts.length, 'text') : '',
            ]
            return `Layer ${l.name}: ${parts.filter(Boolean).join(' and ')}`
          })
          .join('. ')}
        .
      </figcaption>
    </figure>
  )
}

function Pdf({ made, shows }: { made: Made; shows: Extract<Shows, { kind: 'pdf' }> }) {
  const address = useAddress(made)
  return (
    <div className="preview">
      <p>
        {count(shows.pages, 'page')} on {shows.paper}. Print them at 100 %, not fit to page, and measure the bars.
      </p>
      {shows.maps.map((map) => (
        <figure key={map.deck} className="page-map">
          <svg
            viewBox={`${map.whole.x} ${map.whole.y} ${map.whole.width} ${map.whole.height}`}
            role="img"
            aria-label={`${map.deck} over ${count(map.sheets.length, 'sheet')}`}
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
          <figcaption>
            {map.deck}: {count(map.sheets.length, 'sheet')} at 1:1
          </figcaption>
        </figure>
      ))}
      {address && (
        <p>
          <a href={address} target="_blank" rel="noreferrer">
            Look at the pages
          </a>{' '}
          in a window of their own.
        </p>
      )}
      {address && navigator.pdfViewerEnabled && (
        <iframe className="pages" src={address} title={`Pages of ${made.name}`} />
      )}
    </div>
  )
}

function Solid({ data }: { data: Uint8Array }) {
  const view = useMemo(() => solidView(data), [data])
  return (
    <div className="preview">
      <p>
        {count(view.parts.length, 'part')} of {count(view.triangles, 'triangle')} together,{' '}
        {Math.ceil(view.bytes / 1000)} kB, in metres as the format asks for. Read back from the file:
      </p>
      <ul className="part-list">
        {view.parts.map((part, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two parts may have one name
          <li key={i}>{part}</li>
        ))}
      </ul>
    </div>
  )
}
