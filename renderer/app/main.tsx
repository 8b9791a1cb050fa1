import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { browserBridge } from '../bridge/browser-bridge.ts';
import { LinkContext } from '../bridge/link-context.ts';
import { openLink } from '../bridge/link.ts';
import { takeToken } from '../bridge/token.ts';
import { findWindowBridge, windowBridge } from '../bridge/window-bridge.ts';
import '../styles/index.css';
import { App } from './app.tsx';

const given = findWindowBridge(window);
const bridge = given === null ? browserBridge(takeToken(window)) : windowBridge(given);
const link = openLink(bridge, { read: () => ({ tick: performance.now(), wall: Date.now() }) });
const root = document.getElementById('root');
if (root !== null) {
  createRoot(root).render(
    <StrictMode>
      <LinkContext value={link}>
        <App />
      </LinkContext>
    </StrictMode>,
  );
}
