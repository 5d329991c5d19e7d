import './plain-validation.ts'
import { createRoot } from 'react-dom/client'
import './screens/screens.css'
import { App } from './screens/index.ts'

const root = document.getElementById('root')
if (root !== null) createRoot(root).render(<App />)
