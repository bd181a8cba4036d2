import type { State } from '../state/openState.ts'
import type { Role } from '../wire/access.ts'

export interface Person {
  id: number
  name: string
  role: Role
  /** As server/access/passwords.ts hashed it; null until the one-time code was used. */
  password: string | null
  /** Hash of the one-time code with which a password can be set, and until when. */
  code: string | null
  codeUntil: number | null
  createdAt: number
  signedInAt: number | null
}

export type PersonChange = Partial<Omit<Person, 'id' | 'name' | 'createdAt'>>

/** The people who may sign in. What the disk refuses is not taken over: `undefined` or false says so. */
export interface People {
  all(): Person[]
  byId(id: number): Person | undefined
  /** Names are the same however their letters are written. */
  byName(name: string): Person | undefined
  add(person: Omit<Person, 'id'>): Person | undefined
  change(id: number, change: PersonChange): Person | undefined
  remove(id: number): boolean
}

/** One spelling for what people would call the same name. */
export function nameKey(name: string): string {
  return name.normalize('NFKC').trim().replace(/\s+/g, ' ').toLowerCase()
}

const COLUMNS = 'name, role, password, code, codeUntil, createdAt, signedInAt'

export function createPeople(state: State): People {
  const { database } = state
  const insert = database.prepare(`INSERT INTO person (nameKey, ${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`)
  const update = database.prepare(
    'UPDATE person SET role = ?, password = ?, code = ?, codeUntil = ?, signedInAt = ? WHERE id = ?',
  )
  const erase = database.prepare('DELETE FROM person WHERE id = ?')
  const rows = database.prepare(`SELECT id, ${COLUMNS} FROM person`).all() as Person[]
  const held = new Map(rows.map((row) => [row.id, row]))

  return {
    all: () => [...held.values()],
    byId: (id) => held.get(id),
    byName: (name) => [...held.values()].find((person) => nameKey(person.name) === nameKey(name)),
    add(person) {
      const { name, role, password, code, codeUntil, createdAt, signedInAt } = person
      let id = 0
      const isStored = state.write(() => {
        const values = [name, role, password, code, codeUntil, createdAt, signedInAt]
        id = Number(insert.run(nameKey(name), ...values).lastInsertRowid)
      })
      if (!isStored) return undefined
      const added = { id, ...person }
      held.set(id, added)
      return added
    },
    change(id, change) {
      const before = held.get(id)
      if (!before) return undefined
      const next = { ...before, ...change }
      const { role, password, code, codeUntil, signedInAt } = next
      if (!state.write(() => void update.run(role, password, code, codeUntil, signedInAt, id)))
        return undefined
      held.set(id, next)
      return next
    },
    remove(id) {
      if (!state.write(() => void erase.run(id))) return false
      return held.delete(id)
    },
  }
}
