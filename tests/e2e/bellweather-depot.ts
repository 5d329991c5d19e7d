// An architect's door schedule as it comes: 60 openings of an invented bus depot, headings as people abbreviate them.
import { writeWorkbook } from '../../electron/intake/index.ts'

export const depotName = 'Bellweather Depot'

/** Mark, room, from, leaves, width, hand, door, frame, label, hardware group; the typical it is given on the first day. */
const written = `
BASEMENT
B01|Tank store|Corridor B00|SGL|3'-0"|RH|HM|HM|45|5|Storeroom
B02|Records|Corridor B00|SGL|3'-0"|LH|HM|HM|90|6|Records
B03|Pump room|Corridor B00|PR|3'-6"|LHR|HM|HM|45|9|
B04|Switch room|Corridor B00|SGL|3'-6"|RHR|HM|HM|90|14|Exit device, strike
B05|Battery store|Corridor B00|SGL|3'-6"|LHR|HM|HM|90|14|Exit device, strike
B06|Lost property|Corridor B00|SGL|3'-0"|LH|HM|HM|NL|5|Storeroom
B07|Cleaner|Corridor B00|SGL|2'-8"|RH|HM|HM|NL|5|Storeroom
B08|Plant|Ramp|PR|4'-0"|RHR|HM|HM|NL|9|
ST1-B|Stair 1|Corridor B00|SGL|3'-0"|RH|HM|HM|90|4|Stair re-entry
ST2-B|Stair 2|Corridor B00|SGL|3'-0"|LH|HM|HM|90|4|Stair re-entry
LEVEL 1
101|Passenger hall|Forecourt|PR|3'-0"|RHR|AL|AL|NL|10|Operator pair
102|Passenger hall|Stands|PR|3'-0"|LHR|AL|AL|NL|10|Operator pair
103|Ticket office|Passenger hall|SGL|3'-0"|LH|WD|HM|NL|2|Strike, secure
104|Cash room|Ticket office|SGL|3'-0"|RH|HM|HM|20|6|Records
105|Waiting room|Passenger hall|PR|3'-0"|RHR|WD|HM|20|11|Hold-open pair
106|Waiting room|Stands|PR|3'-0"|LHR|WD|HM|20|11|Hold-open pair
107|Enquiries|Passenger hall|SGL|3'-0"|LH|WD|HM|NL|2|Strike, secure
108|Duty manager|Enquiries|SGL|3'-0"|RH|WD|HM|NL|2|Strike, secure
109|Staff corridor|Passenger hall|SGL|3'-0"|LHR|WD|HM|20|1|Magnet + sensor
110|Staff corridor|Yard|SGL|3'-6"|RHR|HM|HM|NL|7|Exit device, retraction
111|Drivers' room|Staff corridor|SGL|3'-0"|LH|WD|HM|20|2|Strike, secure
112|Locker room|Staff corridor|SGL|3'-0"|RH|WD|HM|20|2|Strike, secure
113|Locker room|Staff corridor|SGL|3'-0"|LH|WD|HM|20|2|Strike, secure
114|First aid|Staff corridor|SGL|3'-6"|RH|WD|HM|20|3|Lever, safe
115|Server room|Staff corridor|SGL|3'-0"|LH|HM|HM|45|12|Lever, secure
116|Key store|Staff corridor|SGL|3'-0"|RH|HM|HM|45|6|Records
117|Parts counter|Workshop|SGL|3'-0"|LH|HM|HM|NL|5|Storeroom
118|Workshop|Yard|SGL|3'-6"|LHR|HM|HM|NL|8|Delayed exit
119|Workshop|Staff corridor|SGL|3'-6"|RHR|HM|HM|90|14|Exit device, strike
120|Paint store|Workshop|SGL|3'-6"|RHR|HM|HM|90|5|Storeroom
121|Compressor|Workshop|SGL|3'-0"|?|HM|HM|45|5|Storeroom
122|Wash bay|Yard|PR|4'-0"|LHR|HM|HM|NL|9|
123|Fuel office|Yard|SGL|3'-0"|RHR|HM|HM|NL|7|Exit device, retraction
124|Gate house|Yard|SGL|3'-0"|LHR|HM|HM|NL|3|Lever, safe
125|Parcels|Forecourt|PR|3'-0"|RHR|HM|HM|NL|13|Exit device pair, retraction
126|Parcels|Passenger hall|SGL|3'-0"|LH|WD|HM|20|1|Magnet + sensor
ST1-1|Stair 1|Passenger hall|SGL|3'-0"|RH|HM|HM|90|4|Stair re-entry
ST2-1|Stair 2|Staff corridor|SGL|3'-0"|LH|HM|HM|90|4|Stair re-entry
ST1-X|Stair 1 discharge|Forecourt|SGL|3'-0"|RHR|HM|HM|NL|7|Exit device, retraction
LEVEL 2
201|Lift lobby|Stair 1|PR|3'-0"|RHR|WD|HM|20|11|Hold-open pair
202|Offices|Lift lobby|SGL|3'-0"|LHR|WD|HM|20|1|Magnet + sensor
203|Offices|Stair 2|SGL|3'-0"|RHR|WD|HM|20|1|Magnet + sensor
204|Control room|Offices|SGL|3'-0"|LH|WD|HM|45|12|Lever, secure
205|Control room|Rest room|SGL|3'-0"|RH|WD|HM|45|12|Lever, secure
206|Rest room|Offices|SGL|3'-0"|LH|WD|HM|NL|3|Lever, safe
207|Meeting 1|Offices|SGL|3'-0"|RH|WD|HM|NL|2|Strike, secure
208|Meeting 2|Offices|SGL|3'-0"|LH|WD|HM|NL|2|Strike, secure
209|Depot manager|Offices|SGL|3'-0"|RH|WD|HM|NL|2|Strike, secure
210|Payroll|Offices|SGL|3'-0"|LH|WD|HM|20|2|Strike, secure
211|Personnel files|Payroll|SGL|3'-0"|RH|HM|HM|90|6|Records
212|Training room|Offices|PR|3'-0"|LHR|WD|HM|20|1|Magnet + sensor
213|Training store|Training room|SGL|3'-0"|LH|WD|HM|NL|5|Storeroom
214|Comms riser|Offices|SGL|2'-8"|RH|HM|HM|90|5|Storeroom
215|Balcony|Training room|SGL|3'-0"|RHR|AL|AL|NL|7|Exit device, retraction
ST1-2|Stair 1|Lift lobby|SGL|3'-0"|RH|HM|HM|90|4|Stair re-entry
ST2-2|Stair 2|Offices|SGL|3'-0"|LH|HM|HM|90|4|Stair re-entry
ROOF
R1|Lift machinery|Roof|SGL|3'-0"|RHR|HM|HM|see code plan|5|Storeroom
R2|Ventilation plant|Roof|PR|3'-0"|LHR|HM|HM|NL|9|
ST1-R|Stair 1|Roof|SGL|3'-0"|LHR|HM|HM|90|4|Stair re-entry
ST2-R|Stair 2|Roof|SGL|3'-0"|RHR|HM|HM|90|4|Stair re-entry
`

export interface DepotDoor {
  readonly mark: string
  /** The typical it is given by hand; null where pumps and plant get their hardware from somebody else. */
  readonly typical: string | null
}

const lines = written.trim().split('\n')

/** The openings in the order of the sheet. */
export const depotDoors: readonly DepotDoor[] = lines.flatMap((line) => {
  const cells = line.split('|')
  return cells.length === 1 ? [] : [{ mark: cells[0] ?? '', typical: cells[10] || null }]
})

const column = (heading: string, width: number) => ({ heading, width, form: 'text' as const })

/** The workbook: two title lines, odd headings, level names in rows of their own, one heading that means nothing here. */
export const depotWorkbook = (): Promise<Uint8Array> =>
  writeWorkbook([
    {
      name: 'A-601 Doors',
      titles: [`${depotName.toUpperCase()} - DOOR & FRAME SCHEDULE`, 'Issued for pricing'],
      filter: false,
      columns: [
        column('OPNG #', 8),
        column('RM NAME', 22),
        column('ROOM FROM', 18),
        column('SGL/PR', 7),
        column('LEAF WIDTH', 10),
        column('HGT', 8),
        column('HDG', 6),
        column("DR MAT'L", 9),
        column("FRM MAT'L", 9),
        column('LBL (MIN)', 9),
        column('HDWE GRP', 9),
        column('ELEC?', 8),
        column('RMKS', 24),
      ],
      rows: lines.map((line) => {
        const [mark = '', room, from, leaves, width, hand, door, frame, label, group, typical] =
          line.split('|')
        return room === undefined
          ? [mark, ...Array<null>(12).fill(null)]
          : [
              mark,
              room,
              from ?? '',
              leaves ?? '',
              width ?? '',
              `7'-0"`,
              hand ?? '',
              door ?? '',
              frame ?? '',
              label ?? '',
              group ?? '',
              typical === '' ? 'no' : 'yes',
              mark === '121' ? 'hand to be confirmed on site' : null,
            ]
      }),
    },
  ])
