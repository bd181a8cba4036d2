import 'uplot/dist/uPlot.min.css'
import './style/palette.css'
import './style/base.css'
import './style/bar.css'
import './style/parts.css'
import './style/tables.css'
import './style/forms.css'
import './style/plant.css'
import './style/alarms.css'
import './style/path.css'
import './style/trends.css'
import './style/depth.css'
import './style/access.css'
import './style/trials.css'
import './style/replay.css'
import './style/lessons.css'
import './style/projector.css'
import { render } from 'preact'
import { createConnection } from './connect/connection.ts'
import { followPerson } from './connect/person.ts'
import { App } from './view/app.tsx'
import { followAddress } from './view/route.ts'

followAddress()
followPerson()
const root = document.getElementById('app')
if (!root) throw new Error('index.html has no element #app')
root.textContent = ''
render(<App connection={createConnection()} />, root)
