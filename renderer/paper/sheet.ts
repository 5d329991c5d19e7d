// What pieces paint on: a page with its pen, its tags, its links and its bookmarks.
import type { Element, PdfInside } from './pdf-inside.ts'
import type { Pen } from './pen.ts'
import type { Sheet } from './pieces.ts'
import type { PlannedPage } from './plan.ts'

/** `chapter` stands above the bookmarks that pieces make. */
export function openSheet(inside: PdfInside, pen: Pen, chapter: () => readonly string[] = () => []): Sheet {
  return {
    pen,
    root: inside.root,
    element(parent, type, options) {
      if (parent === null) return null
      const element = inside.element(type, options)
      parent.add(element)
      return element
    },
    say(element: Element | null, paint) {
      if (element === null) {
        paint()
        return
      }
      pen.flush()
      element.add(() => {
        paint()
        pen.flush()
      })
    },
    artifact(kind, paint) {
      if (inside.root === null) {
        paint()
        return
      }
      pen.flush()
      inside.openArtifact(kind)
      paint()
      pen.flush()
      inside.closeArtifact()
    },
    bookmark: (path, top) => inside.bookmark([...chapter(), ...path], top),
    link: (place, target) => inside.link(place, target),
    destination: (name, top) => inside.destination(name, top),
    picture(data, matrix) {
      pen.flush()
      inside.picture(data, matrix)
    },
  }
}

export function paintPage(page: PlannedPage, sheet: Sheet): void {
  for (const place of page) place.piece.paint(sheet, place.top, place.repeated)
}
