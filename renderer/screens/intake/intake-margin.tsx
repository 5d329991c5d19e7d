import { Citation, MarginText, MarginTitle } from '../../ui/index.ts'
import { useWindow } from '../window-state.ts'

/** How to read a preview. */
export function IntakeMargin() {
  const intake = useWindow((state) => state.intake)
  if (intake === null) return null
  return (
    <>
      <MarginTitle>Nothing is written yet</MarginTitle>
      <MarginText>
        Each row is shown as it was understood. What could not be read stays not known; it is never guessed
        and never made a default. Accepting writes everything as one change, and one undo takes it back.
      </MarginText>
      <MarginTitle>A newer revision</MarginTitle>
      <MarginText>
        Openings are matched by the id the model or workbook gives them, else by building, level and mark.
        What somebody changed here since the last take-in is left as it is unless you choose otherwise, and
        openings that the file no longer has stay unless you remove them.
      </MarginText>
      {intake.form === 'model' && (
        <>
          <MarginTitle>Hands are not in a model</MarginTitle>
          <MarginText>
            A model says on which side a door hangs, not which side is keyed. So every hand stays a question
            here.
          </MarginText>
          <Citation>IfcDoor and IfcDoorTypeOperationEnum, IFC 4.3 documentation (ISO 16739-1).</Citation>
        </>
      )}
      {intake.form === 'cobie' && (
        <Citation>
          Doors are the Component rows whose ExtObject is IfcDoor (COBie 2.4). Contacts and addresses in the
          workbook are not taken in.
        </Citation>
      )}
      {intake.form === 'sheet' && (
        <MarginText>
          Corrected columns are remembered by their headings, so the next file with the same headings comes in
          the same way.
        </MarginText>
      )}
    </>
  )
}
