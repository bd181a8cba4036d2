import { createServer } from 'node:net'
import { Aedes } from 'aedes'
import { tellParent } from '../parent.ts'

/** The broker that both sides of a bench use, in a process of its own. */
const aedes = await Aedes.createBroker()
const server = createServer(aedes.handle)
server.listen(0, '127.0.0.1', () => {
  const address = server.address()
  if (address && typeof address === 'object') tellParent({ type: 'ready', port: address.port })
})
