/** All files of a kind, written; on a thread of its own, since pictures and printed pages take their time. */
import { dxf } from '../export/index.ts'
import { pdfParts } from '../export/pdf-parts.ts'
import { words } from '../words/index.ts'
import { type Asked, drawings, type Kind, type Made, named, type Shows, safe, stem, svgOf } from './export-files.ts'
import { laidIn } from './export-leads.ts'

async function pdfFiles(asked: Asked): Promise<Made[]> {
  const [{ pdfPages }, { pagesIn, pageMaps }] = await Promise.all([
    import('../export/pdf.ts'),
    import('./export-pdf-map.ts'),
  ])
  const { view, asMade, shop, parts = pdfParts } = asked
  if (parts.length === 0) return []
  const data = await pdfPages(view.problem, view.placements, {
    paper: shop.paper,
    asMade,
    parts,
    ...(asked.checkList ? { checkList: asked.checkList } : {}),
    ...(parts.includes('assembly') ? laidIn(asked) : {}),
  })
  const maps = parts.includes('template') ? await pageMaps(view.problem, view.placements, shop.paper, asMade) : []
  const shows: Shows = { kind: 'pdf', pages: await pagesIn(data), paper: shop.paper, maps }
  return [{ name: `${stem(asked)}.pdf`, type: 'application/pdf', data, title: words.files.toPrint, shows }]
}

async function pictureFiles(asked: Asked): Promise<Made[]> {
  const [plan, round] = await Promise.all([import('../export/picture.ts'), import('../export/picture-round.ts')])
  const { problem, placements } = asked.view
  const { laid = [] } = laidIn(asked)
  const look = asked.look ?? 'light'
  const of = (what: string, title: string, data: Uint8Array): Made => ({
    name: `${stem(asked)}-${what}.png`,
    type: 'image/png',
    data,
    title,
    shows: { kind: 'image', ...pngSize(data), unit: 'pixels' },
  })
  return [
    of('plan', words.files.planPicture, plan.planPng(problem, placements, { look, laid })),
    of('3d', words.files.roundPicture, round.roundPng(problem, placements, { look, laid })),
  ]
}

/** Width and height stand in the first chunk, at bytes 16 and 20 (ISO/IEC 15948, 11.2.2). */
function pngSize(data: Uint8Array): { width: number; height: number } {
  const view = new DataView(data.buffer, data.byteOffset)
  return { width: view.getUint32(16), height: view.getUint32(20) }
}

async function gltfFiles(asked: Asked): Promise<Made[]> {
  const { gltf } = await import('../export/gltf.ts')
  const data = await gltf(asked.view.problem, asked.view.placements, { laid: laidIn(asked).laid ?? [] })
  return [
    {
      name: `${stem(asked)}.glb`,
      type: 'model/gltf-binary',
      data,
      title: words.files.kind.gltf.use,
      shows: { kind: 'solid' },
    },
  ]
}

/** All files of a kind. Throws what the writers throw, in words for the user. */
export async function filesOf(kind: Kind, asked: Asked): Promise<readonly Made[]> {
  switch (kind) {
    case 'svg':
      return drawings(asked).map(({ drawing, deck }) => svgOf(asked, drawing, deck))
    case 'dxf':
      return drawings(asked).map(({ drawing, deck }) => ({
        ...named(asked, deck, 'dxf'),
        type: 'image/vnd.dxf',
        data: dxf(drawing, { version: asked.shop.dxf }),
        shows: { kind: 'dxf' },
      }))
    case 'pdf':
      return pdfFiles(asked)
    case 'tables':
      return (await import('./tables-files.ts')).tableFiles(asked, stem(asked), safe)
    case 'pictures':
      return pictureFiles(asked)
    case 'gltf':
      return gltfFiles(asked)
  }
}
