import { createRoot } from 'react-dom/client'
import { elevationWords, gateLegend } from '../../../../core/documents/index.ts'
import { elevation, gateHalf, gateMark } from '../../../../renderer/drawing/index.ts'
import { DrawingView } from '../../../../renderer/ui/drawing/index.ts'
import '../../../../renderer/ui/theme.css'
import './page.css'
import { elevations, gates } from '../samples.ts'

const Page = () => (
  <main className="drawings">
    <h1>Drawings</h1>
    <section className="gates">
      {gates.map((gate) => (
        <DrawingView key={JSON.stringify(gate)} drawing={gateMark(gate)} />
      ))}
      {gates.slice(3, 9).map((gate) => (
        <DrawingView key={JSON.stringify(gate)} drawing={gateMark(gate, { height: 44 })} label={null} />
      ))}
    </section>
    <ul className="halves">
      {gateLegend.entries.map(
        ({ sign, meaning }) =>
          'passage' in sign && (
            <li key={meaning}>
              <DrawingView drawing={gateHalf(sign.passage)} />
              {meaning}
            </li>
          ),
      )}
    </ul>
    <section className="doors">
      {elevations.map(({ title, input }) => (
        <figure key={title}>
          <DrawingView drawing={elevation(input, { width: 330, height: 330 })} />
          <figcaption>
            <b>{title}.</b> {elevationWords(input)}
          </figcaption>
        </figure>
      ))}
    </section>
  </main>
)

const root = document.getElementById('root')
if (root !== null) createRoot(root).render(<Page />)
