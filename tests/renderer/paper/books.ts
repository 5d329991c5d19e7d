// Made-up books, pictures and makers' files that the tests of books share.
import { deflateSync, crc32 } from 'node:zlib'
import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { Writable } from 'node:stream'
import { PDFDocument, PDFName, PDFString } from '@cantoo/pdf-lib'
import type {
  Block,
  BookAttachment,
  BookBlocks,
  BookPart,
  DocumentFacts,
} from '../../../core/documents/index.ts'
import { pressFonts } from '../../../electron/press.ts'
import { writeBook, type WriteBookOptions, type WrittenBook } from '../../../renderer/paper/index.ts'
import { door, magnetDoor } from '../drawing/samples.ts'
import { createdAt, keep, print, schedule } from './printed.ts'

export const facts: DocumentFacts = {
  title: 'Closeout binder',
  jobName: 'Harrow Street Clinic',
  jobNumber: '2231',
  client: 'Harrow Street Health Trust',
  address: '14 Harrow Street',
  preparedBy: 'Front office',
  issueName: '1',
  dateText: '3 March 2026',
  pageNote: 'Local codes and the authority having jurisdiction decide.',
}

const words = (title: string | null, ...paragraphs: string[]): Block => ({
  form: 'words',
  title,
  paragraphs,
  cautions: [],
})

export const documentPart = (
  entry: string | null,
  blocks: readonly Block[],
  rest: Partial<BookPart & { form: 'document' }> = {},
): BookPart => ({
  form: 'document',
  entry,
  index: [],
  document: { facts: { ...facts, title: entry ?? '' }, blocks },
  ...rest,
})

export const openingPart = (mark: string, more: readonly Block[] = []): BookPart =>
  documentPart(
    `Opening ${mark}`,
    [
      { form: 'title', title: `Opening ${mark}`, lines: ['Pharmacy store, from corridor 117'], facts: [] },
      { form: 'elevation', title: 'Egress side', input: door({ fittings: magnetDoor }) },
      ...more,
    ],
    {
      index: [
        { list: 'mark', text: mark },
        { list: 'room', text: `Room ${mark}` },
        { list: 'serial', text: `S-${Number.parseInt(mark, 10) * 37}` },
      ],
    },
  )

export const makersPart = (key: string, title: string): BookPart => ({
  form: 'makers document',
  entry: title,
  title,
  lines: ['Openings 118 and 121'],
  index: [],
  attachment: key,
})

export const attachment = (
  key: string,
  fileName: string,
  more: Partial<BookAttachment> = {},
): BookAttachment => ({
  key,
  fileName,
  mediaType: 'application/pdf',
  description: `Installation instructions, ${key}`,
  relationship: 'Supplement',
  modifiedAt: '2026-01-05T08:00:00Z',
  ...more,
})

/** A binder with everything a binder may hold; photographs and attachments are asked for by these keys. */
export function sampleBook(different: Partial<BookBlocks> = {}): BookBlocks {
  const photographs: Block = {
    form: 'photographs',
    title: 'Photographs',
    photographs: ['upright', 'turned', 'clear', 'indexed', 'gone'].map((key) => ({
      key,
      caption: `The door as proved, ${key}`,
      textAlternative: `Photograph, ${key}`,
    })),
  }
  return {
    facts,
    cover: {
      title: 'Closeout binder',
      lines: ['Harrow Street Clinic', '14 Harrow Street'],
      facts: [
        { name: 'Client', text: 'Harrow Street Health Trust' },
        { name: 'Job number', text: '2231' },
        { name: 'Issue', text: '1' },
        { name: 'Date', text: '3 March 2026' },
      ],
      cautions: [
        'Local codes and the authority having jurisdiction decide what each opening must do. This binder supports that review; it is not a substitute for licensed practice.',
      ],
    },
    front: [
      documentPart('How to read this binder', [words('How to read this binder', 'Marks lead everywhere.')]),
    ],
    chapters: [
      {
        title: 'Opening schedule',
        parts: [
          {
            form: 'document',
            entry: null,
            index: [],
            orientation: 'landscape',
            document: schedule([40, 35]),
          },
        ],
      },
      {
        title: 'Opening pages',
        parts: [
          openingPart('118', [photographs]),
          openingPart('10A'),
          openingPart('2', [
            {
              form: 'figure',
              title: 'Check this page before drilling',
              figure: { kind: 'measuring bar', input: { lengthMicrometres: 100_000, lengthWords: '100 mm' } },
              size: 'fit',
              trueSize: true,
              textAlternative: 'A bar to measure.',
              pageCaution: 'Do not drill until the bar measures 100 mm.',
            },
          ]),
        ],
      },
      {
        title: 'Makers’ documents',
        parts: [
          makersPart('plain', 'Surface magnet'),
          makersPart('locked', 'Sensor'),
          makersPart('cut', 'Strike'),
          makersPart('secret', 'Power supply'),
        ],
      },
      {
        title: 'Acceptance',
        parts: [
          documentPart(null, [
            {
              form: 'signatures',
              title: 'Acceptance',
              paragraphs: ['The undersigned have seen the openings in this binder work as it says.'],
              lines: [
                { role: 'For the owner', name: null },
                { role: 'For the lock contractor', name: 'R. Okafor' },
              ],
            },
          ]),
        ],
      },
    ],
    indexLists: [
      { key: 'mark', title: 'By mark' },
      { key: 'room', title: 'By room' },
      { key: 'serial', title: 'By serial' },
    ],
    attachments: [
      attachment('plain', 'Magnet & plate.pdf'),
      attachment('locked', 'sensor.pdf'),
      attachment('cut', 'strike.pdf'),
      attachment('secret', 'supply.pdf'),
      attachment('twin', 'job.json', {
        mediaType: 'application/json',
        description: 'The whole job as text',
        relationship: 'Data',
      }),
      attachment('workbook', 'Übergabe.xlsx', {
        mediaType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
        description: 'Handover workbook',
        relationship: 'Alternative',
      }),
    ],
    ...different,
  }
}

export async function printBook(
  book: BookBlocks,
  options: Partial<WriteBookOptions> = {},
): Promise<{ bytes: Uint8Array; written: WrittenBook }> {
  const chunks: Uint8Array[] = []
  const stream = new Writable({
    write(chunk: Uint8Array, _, done) {
      chunks.push(chunk)
      done()
    },
  })
  const fonts = await pressFonts()
  const written = await writeBook(book, {
    copy: 'archive',
    pageSize: 'letter',
    fonts,
    createdAt,
    stream,
    ...options,
  })
  return { bytes: Buffer.concat(chunks), written }
}

const qpdf = (bytes: Uint8Array, ...words: string[]): Uint8Array => {
  const from = keep(bytes)
  execFileSync('qpdf', [...words, from, `${from}.out.pdf`])
  return readFileSync(`${from}.out.pdf`)
}

/** The makers' files of the sample book, and its photographs. Needs qpdf and pdftoppm. */
export async function sampleFiles(): Promise<ReadonlyMap<string, Uint8Array>> {
  const { bytes: plain } = await print(schedule([60]), { orientation: 'portrait' })
  const { bytes: short } = await print(schedule([5]), { orientation: 'landscape' })
  const linked = await withLinks(plain)
  const jpeg = jpegOf(plain)
  return new Map<string, Uint8Array>([
    ['plain', qpdf(linked, '--object-streams=generate', '--linearize')],
    ['locked', qpdf(short, '--encrypt', '', 'owner', '256', '--')],
    ['cut', plain.subarray(0, plain.length / 2)],
    ['secret', qpdf(short, '--encrypt', 'user', 'owner', '256', '--')],
    ['twin', Buffer.from('{"schema":2}')],
    ['workbook', Buffer.from('PK not really a workbook')],
    ['upright', jpeg],
    ['turned', turnedJpeg(jpeg, 6)],
    ['clear', png(160, 100, 6, 8)],
    ['indexed', png(160, 100, 3, 4)],
  ])
}

/** Adds what makers' files have: a link to another page, one to the web, and one that runs a program. */
async function withLinks(bytes: Uint8Array): Promise<Uint8Array> {
  const document = await PDFDocument.load(bytes, { updateMetadata: false })
  const [first, second] = document.getPages()
  if (first === undefined || second === undefined) throw new Error('two pages are wanted')
  const { context } = document
  const link = (entries: Record<string, unknown>) =>
    context.register(
      context.obj({ Type: 'Annot', Subtype: 'Link', Rect: [40, 40, 90, 60], ...entries } as never),
    )
  const annotations = [
    link({ Dest: [second.ref, 'Fit'] }),
    link({ A: { S: 'URI', URI: PDFString.of('https://example.com/sheet') } }),
    link({ A: { S: 'JavaScript', JS: PDFString.of('app.alert(1)') } }),
  ]
  first.node.set(PDFName.of('Annots'), context.obj(annotations))
  first.node.set(PDFName.of('AA'), context.obj({ O: { S: 'JavaScript', JS: PDFString.of('app.alert(2)') } }))
  return document.save({ useObjectStreams: false })
}

function jpegOf(bytes: Uint8Array): Uint8Array {
  const from = keep(bytes)
  execFileSync('pdftoppm', [
    '-r',
    '60',
    '-f',
    '1',
    '-l',
    '1',
    '-singlefile',
    '-jpeg',
    from,
    `${from}.picture`,
  ])
  return readFileSync(`${from}.picture.jpg`)
}

/** The same picture, said to have been taken with the camera turned. */
function turnedJpeg(jpeg: Uint8Array, orientation: number): Uint8Array {
  const body = Buffer.alloc(32)
  body.write('Exif\0\0II*\0', 0, 'latin1')
  body.writeUInt32LE(8, 10)
  body.writeUInt16LE(1, 14)
  body.writeUInt16LE(274, 16)
  body.writeUInt16LE(3, 18)
  body.writeUInt32LE(1, 20)
  body.writeUInt16LE(orientation, 24)
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2])
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)])
}

/** A PNG of bands: with opacity (colour type 6), or indexed with one clear colour (3). */
export function png(width: number, height: number, colourType: 0 | 2 | 3 | 4 | 6, bits: number): Uint8Array {
  const samples = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 }[colourType]
  const rowBytes = Math.ceil((width * samples * bits) / 8)
  const rows = Buffer.alloc((rowBytes + 1) * height)
  for (let y = 0; y < height; y += 1) {
    // Each row with another filter, so that all are undone.
    rows[y * (rowBytes + 1)] = y % 5
    for (let x = 0; x < rowBytes; x += 1)
      rows[y * (rowBytes + 1) + 1 + x] = y % 5 === 0 ? (x * 7 + y) & 255 : 0
  }
  const chunk = (name: string, body: Uint8Array): Buffer => {
    const named = Buffer.concat([Buffer.from(name, 'latin1'), body])
    const head = Buffer.alloc(4)
    head.writeUInt32BE(body.length)
    const foot = Buffer.alloc(4)
    foot.writeUInt32BE(crc32(named))
    return Buffer.concat([head, named, foot])
  }
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header[8] = bits
  header[9] = colourType
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    ...(colourType === 3
      ? [
          chunk('PLTE', Buffer.from(Array.from({ length: 48 }, (_, at) => (at * 37) & 255))),
          chunk('tRNS', Buffer.from([0, 128])),
        ]
      : []),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ])
}
