/**
 * Run a task over a list, at most so many at once, and keep the order of the answers.
 *
 * @template Item, Answer
 * @param {number} width How many run at once.
 * @param {readonly Item[]} items What to work through.
 * @param {(item: Item) => Promise<Answer>} task Must not reject; a rejection rejects the whole.
 * @returns {Promise<Answer[]>} Answers in the order of the items.
 */
export async function runPool(width, items, task) {
  /** @type {Answer[]} */
  const answers = [];
  const queue = items.entries();
  const work = async () => {
    for (const [index, item] of queue) answers[index] = await task(item);
  };
  await Promise.all(Array.from({ length: Math.min(width, items.length) }, work));
  return answers;
}
