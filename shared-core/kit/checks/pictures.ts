import type { Finding, KitDraft } from '../draft.ts';
import { pathOfItem } from '../source.ts';

/**
 * Pictures that are missing, remote, or outside the kit's folder.
 *
 * @param files Paths in the kit's folder with forward slashes; null where they are not known.
 */
export function checkPictures(draft: KitDraft, files: ReadonlySet<string> | null): Finding[] {
  return draft.kit.chapters
    .flatMap((chapter) => chapter.steps)
    .flatMap((step): Finding[] => {
      if (step.picture === null) return [];
      const path = `${pathOfItem(draft.source, 'steps', step)}.picture`;
      const problem = pictureProblem(step.picture, files);
      return problem ? [{ ...problem, path }] : [];
    });
}

function pictureProblem(picture: string, files: ReadonlySet<string> | null): Omit<Finding, 'path'> | null {
  if (/^[a-z][a-z0-9+.-]+:|^[\\/]{2}/i.test(picture)) {
    const message = `The picture "${picture}" is not in the kit's folder but elsewhere on a network`;
    const hint = 'Put the file into the folder and name it: pictures/c5.svg.';
    return { code: 'kit/picture-remote', message, hint };
  }
  const segments = picture.split(/[\\/]/);
  const climbs = segments.includes('..') || segments.includes('') || picture.startsWith('~');
  if (climbs || picture.includes('\\') || picture.includes(':') || picture.includes('\0')) {
    const message = `The picture "${picture}" is outside the kit's folder`;
    const hint = 'Name a file below the folder with forward slashes: pictures/c5.svg.';
    return { code: 'kit/picture-outside', message, hint };
  }
  if (files === null || files.has(picture)) return null;
  const message = `There is no file "${picture}" in the kit's folder`;
  return {
    code: 'kit/picture-missing',
    message,
    hint: 'Add the picture or correct its name; capitals count.',
  };
}
