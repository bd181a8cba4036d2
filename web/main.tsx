import './style/palette.css'
import './style/base.css'
import './style/bar.css'
import './style/parts.css'
import './style/shapes.css'
import './style/plants.css'
import './style/plant.css'
import './style/alarms.css'
import { render } from 'preact'
import { followPerson } from './connect/person.ts'
import { createSession } from './connect/session.ts'
import { App } from './view/app.tsx'
import { followAddress } from './view/route.ts'

followAddress()
followPerson()
const root = document.getElementById('app')
if (!root) throw new Error('index.html has no element #app')
root.textContent = ''
render(<App session={createSession()} />, root)
