/** The three channels between the window's page and the services, named once for both sides. */
export const channels = {
  call: 'kitwright:call',
  blob: 'kitwright:blob',
  event: 'kitwright:event',
} as const;
