import { useEffect, useState } from 'react';
import type { Paper } from '../../shared-core/contract/calls.ts';
import type { PaperPage } from '../../shared-core/report/paper-page.ts';
import { useLink } from './link-context.ts';

/**
 * The pages of a paper; null until they are drawn.
 *
 * @param seq Newest entry of the build: an older drawing is drawn anew.
 */
export function usePages(paper: Paper | null, seq: number): readonly PaperPage[] | null {
  const { call, store } = useLink();
  const [pages, setPages] = useState<readonly PaperPage[] | null>(null);
  const wanted = JSON.stringify(paper);
  useEffect(() => {
    const asked = JSON.parse(wanted) as Paper | null;
    if (asked === null) return undefined;
    let gone = false;
    void call('paper.pages', { paper: asked }).then((answer) => {
      if (gone || answer === null) return;
      if (answer.ok) setPages(answer.value);
      else store.setState({ problems: answer.problems });
    });
    return () => {
      gone = true;
    };
  }, [call, store, wanted, seq]);
  return pages;
}
