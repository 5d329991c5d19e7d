import { describe, expect, test } from 'vitest'
import { readModel } from '../../../electron/intake/model-reader.ts'
import { decodeStepText } from '../../../electron/intake/step-text.ts'
import { indexStep } from '../../../electron/intake/step-reader.ts'

function bytesOf(text: string): Uint8Array {
  return Buffer.from(text, 'latin1')
}

// Source: ISO 10303-21:2016, 6.4.3.2 to 6.4.3.4, unless another is named.
const TEXTS: readonly (readonly [written: string, read: string, doubt: string | null, source: string])[] = [
  ['plain', 'plain', null, 'ISO 10303-21'],
  ["it''s", "it's", null, 'ISO 10303-21'],
  ['a\\\\b', 'a\\b', null, 'ISO 10303-21'],
  ['\\X\\FC', 'ü', null, 'ISO 10303-21'],
  ['\\X\\fc', 'ü', null, 'small hex: seen in real files'],
  ['\\X2\\00FC00DF\\X0\\', 'üß', null, 'ISO 10303-21'],
  ['\\X2\\00fc\\X0\\x', 'üx', null, 'small hex: seen in real files'],
  ['\\X2\\D83DDEAA\\X0\\', '🚪', null, 'surrogate pair: seen in real files'],
  ['\\X4\\0001F6AA\\X0\\', '🚪', null, 'ISO 10303-21'],
  ['\\X4\\00110000\\X0\\', '\\X4\\00110000\\X0\\', 'bad-escape', 'no such code point'],
  ['\\S\\|', 'ü', null, 'ISO 10303-21: 8859-1 unless chosen'],
  ['\\PE\\\\S\\0', '\u0410', null, 'ISO 10303-21: 8859-5'],
  ['\\PI\\\\S\\}', 'ı', null, 'ISO 10303-21: 8859-9'],
  ['\\N\\', '\n', null, 'ISO 10303-21: print control'],
  ['\\X2\\00FC', '\\X2\\00FC', 'bad-escape', 'never closed'],
  ['\\Q\\', '\\Q\\', 'bad-escape', 'no such escape'],
  ['T\u00fcr', 'Tür', 'raw-bytes', 'raw Latin-1: seen in real files'],
  ['T\u00c3\u00bcr', 'Tür', null, 'raw UTF-8: edition 3'],
  ['two\r\nlines', 'twolines', null, 'ISO 10303-21: line breaks are no part of a text'],
]

test.each(TEXTS)('text %j reads %j', (written, read, doubt) => {
  const bytes = bytesOf(written)
  expect(decodeStepText(bytes, 0, bytes.length)).toEqual({ text: read, doubt })
})

function attributes(written: string) {
  const file = indexStep(
    bytesOf(`ISO-10303-21;DATA;#7=IFCDOOR(${written});ENDSEC;END-ISO-10303-21;`),
    new Set(['IFCDOOR']),
  )
  return { values: file.attributesOf(7), file }
}

describe('values', () => {
  test('of every kind', () => {
    expect(
      attributes("$,*,'a',-1.5E-003,7.,.ELEMENT.,#12,(),(1,(2)),IFCLABEL('x'),\"0AF\" /* , */ , .t.").values,
    ).toEqual([
      { kind: 'missing' },
      { kind: 'derived' },
      { kind: 'text', text: 'a' },
      { kind: 'number', value: -0.0015 },
      { kind: 'number', value: 7 },
      { kind: 'word', word: 'ELEMENT' },
      { kind: 'reference', id: 12 },
      { kind: 'list', items: [] },
      {
        kind: 'list',
        items: [
          { kind: 'number', value: 1 },
          { kind: 'list', items: [{ kind: 'number', value: 2 }] },
        ],
      },
      { kind: 'typed', type: 'IFCLABEL', value: { kind: 'text', text: 'x' } },
      { kind: 'bits', hex: '0AF' },
      { kind: 'word', word: 'T' },
    ])
  })

  test.each(["'a' 'b'", '1,,2', '#', '.X', 'IFCLABEL', '1.2.3', '('.repeat(200)])('broken: %s', (written) => {
    const { values, file } = attributes(written)
    expect(values).toBeNull()
    expect(file.unreadable.count + (file.ended ? 0 : 1)).toBeGreaterThan(0)
  })
})

describe('records', () => {
  const read = (data: string, end = 'ENDSEC;END-ISO-10303-21;') =>
    indexStep(
      bytesOf(`ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;\n${data}\n${end}`),
      new Set(['IFCDOOR']),
    )

  test.each([
    ['small letters and blanks', '# 1 = x; #2 = ifcdoor ( $ ) ;', [2], 1],
    ['semicolons, brackets, comments in texts', "#1=IFCDOOR('a;b)/*');#2=IFCDOOR('*/');", [1, 2], 0],
    ['comments', '/* #1=IFCDOOR(); */#2=IFCDOOR(/* ; */);', [2], 0],
    ['a record of several types', '#1=(A(1)B(2));#2=IFCDOOR();', [2], 0],
    ['a lost apostrophe', "#1=IFCDOOR('a,$);\n#2=IFCDOOR('b');", [2], 1],
    ['rubbish between', ';;&%;#2=IFCDOOR();', [2], 1],
    ['a number twice', '#1=IFCDOOR(1);#1=IFCDOOR(2);', [1], 0],
  ] as const)('%s', (_, data, ids, unreadable) => {
    const file = read(data)
    expect(file.recordsOf('IFCDOOR')).toEqual(ids)
    expect(file.unreadable.count).toBe(unreadable)
    expect(file.ended).toBe(true)
  })

  test('the end must come, outside any text', () => {
    expect(read('#1=IFCDOOR();', '').ended).toBe(false)
    expect(read("#1=IFCDOOR('END-ISO-10303-21;');", '').ended).toBe(false)
    expect(read("#1=IFCDOOR('never closed", 'END-ISO-10303-21;').ended).toBe(false)
    expect(read('/* never closed', 'END-ISO-10303-21;').ended).toBe(false)
  })
})

function modelWith(schema: string, records: string) {
  const text = `ISO-10303-21;HEADER;FILE_SCHEMA(('${schema}'));ENDSEC;DATA;${records}ENDSEC;END-ISO-10303-21;`
  return readModel('m.ifc', bytesOf(text))
}

const METRE = '#1=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);#2=IFCUNITASSIGNMENT((#1));'

describe('schemas', () => {
  test.each([
    ['IFC2X3', true],
    ['ifc2x3_tc1', true],
    ['IFC4', true],
    ['IFC4_ADD2_TC1', true],
    ['IFC4X3', true],
    ['IFC4X3_ADD2', true],
    ['IFC4X1', true],
    ['IFC5', false],
    ['IFC2X2_FINAL', false],
    ['', false],
  ])('%s', (schema, accepted) => {
    expect(modelWith(schema, METRE).ok).toBe(accepted)
  })
})

describe('units of length', () => {
  // 3 units of each; factors: SI brochure (9th edition, table 7); foot and inch: NIST SP 811, appendix B.
  test.each([
    ['metre', '#1=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);', 3000],
    ['centimetre', '#1=IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);', 30],
    ['millimetre', '#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);', 3],
    [
      'foot by metre',
      "#1=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'FOOT',#3);#3=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#4);#4=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);",
      914.4,
    ],
    [
      'inch by millimetre',
      "#1=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'INCH',#3);#3=IFCMEASUREWITHUNIT(IFCRATIOMEASURE(25.4),#4);#4=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);",
      76.2,
    ],
    ['an area', '#1=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);', null],
    [
      'itself',
      "#1=IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'X',#3);#3=IFCMEASUREWITHUNIT(IFCRATIOMEASURE(2.),#1);",
      null,
    ],
  ] as const)('%s', (_, unit, widthMillimetres) => {
    const read = modelWith(
      'IFC4',
      `${unit}#2=IFCUNITASSIGNMENT((#1));#9=IFCDOOR('a',$,$,$,$,$,$,$,3.,3.,$,$,$);`,
    )
    if (!read.ok) throw new Error(read.problem.code)
    expect(read.value.doors[0]?.widthMillimetres).toBe(widthMillimetres)
  })

  test('the project’s own assignment counts, not the first in the file', () => {
    const read = modelWith(
      'IFC4',
      "#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);#2=IFCUNITASSIGNMENT((#1));#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);#4=IFCUNITASSIGNMENT((#3));#5=IFCPROJECT('p',$,$,$,$,$,$,$,#4);#9=IFCDOOR('a',$,$,$,$,$,$,$,2.,1.,$,$,$);",
    )
    expect(read.ok && read.value.doors[0]?.widthMillimetres).toBe(1000)
  })
})

describe('doubts', () => {
  const door = (id: number, globalId: string, size = '2.,1.') =>
    `#${id}=IFCDOOR(${globalId},$,'D${id}',$,$,$,$,$,${size},$,$,$);`

  test.each([
    ['no storey', METRE + door(9, "'a'"), '1 door is on no storey ("D9").'],
    ['no id', METRE + door(9, '$'), 'Door record #9 has no GlobalId and was left out.'],
    [
      'one id twice',
      METRE + door(8, "'a'") + door(9, "'a'"),
      '1 door id is used by more than one door (first "a").',
    ],
    [
      'wrong unit',
      METRE + door(9, "'a'", '2100.,900.'),
      '1 door measures less than 0.3 m or more than 10 m ("D9", 900000 mm). Check the unit of the model.',
    ],
    [
      'no unit',
      door(9, "'a'"),
      'The model does not say its unit of length, so no size and no elevation was taken.',
    ],
    [
      'elevations in another unit',
      `#1=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);#2=IFCUNITASSIGNMENT((#1));#3=IFCBUILDINGSTOREY('s',$,'1',$,$,$,$,$,$,0.);#4=IFCBUILDINGSTOREY('t',$,'2',$,$,$,$,$,$,3.6);`,
      'All storeys lie within 0.1 m of each other; the elevations may be in another unit than the model says.',
    ],
  ])('%s', (_, records, sentence) => {
    const read = modelWith('IFC4', records)
    if (!read.ok) throw new Error(read.problem.code)
    expect(read.value.warnings).toContain(sentence)
  })
})

test('circles among parts, openings and units end', () => {
  const read = modelWith(
    'IFC4',
    `${METRE}#3=IFCRELAGGREGATES('r',$,$,$,#9,(#9));#4=IFCRELFILLSELEMENT('f',$,$,$,#5,#9);#6=IFCRELVOIDSELEMENT('v',$,$,$,#9,#5);#7=IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(#9),#8);#8=IFCSPACE('s',$,'1',$,$,$,$,$);#10=IFCRELAGGREGATES('q',$,$,$,#8,(#8));#9=IFCDOOR('a',$,$,$,$,$,$,$,2.,1.,$,$,$);`,
  )
  expect(read.ok && read.value.doors[0]?.storey).toBe(null)
})

test('20,000 doors in good time', () => {
  const lines = [METRE, "#3=IFCBUILDINGSTOREY('s',$,'Level 1',$,$,$,$,$,.ELEMENT.,0.);"]
  const doors: string[] = []
  for (let index = 0; index < 20_000; index++) {
    const id = 10 + index * 4
    lines.push(`#${id}=IFCDOOR('door${index}',$,'Door ${index}',$,$,$,$,'${index}',2.134,0.915,$,$,$);\n`)
    lines.push(`#${id + 1}=IFCPROPERTYSINGLEVALUE('Mark',$,IFCLABEL('${index}'),$);\n`)
    lines.push(`#${id + 2}=IFCPROPERTYSET('set${index}',$,'Identity Data',$,(#${id + 1}));\n`)
    lines.push(`#${id + 3}=IFCRELDEFINESBYPROPERTIES('rel${index}',$,$,$,(#${id}),#${id + 2});\n`)
    doors.push(`#${id}`)
  }
  lines.push(`#5=IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(${doors.join(',')}),#3);`)
  const start = performance.now()
  const read = modelWith('IFC4', lines.join(''))
  expect(performance.now() - start).toBeLessThan(3000)
  if (!read.ok) throw new Error(read.problem.code)
  expect(read.value.doors).toHaveLength(20_000)
  expect(read.value.doors[19_999]?.properties['Identity Data']?.['Mark']).toBe('19999')
  expect(read.value.doors.every((door) => door.storey === 'Level 1')).toBe(true)
})
