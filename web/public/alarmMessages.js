// Shows alarm messages of the server while no page is open. Plain script: a service worker is not part of the build.
self.addEventListener('push', (event) => {
  const { id, title, url, isUrgent } = event.data.json()
  event.waitUntil(
    self.registration.showNotification(title, {
      body: 'Tap to see it and to acknowledge. Monitoring is not protection.',
      // The same message twice replaces itself.
      tag: id,
      requireInteraction: isUrgent,
      data: { url },
    }),
  )
})

self.addEventListener('notificationclick', (event) => {
  event.notification.close()
  event.waitUntil(self.clients.openWindow(event.notification.data.url))
})
