export interface OutMessage {
  topic: string
  payload: string
  /** Contacts and settings are kept by the broker, so that who comes later knows them. */
  retain: boolean
}
