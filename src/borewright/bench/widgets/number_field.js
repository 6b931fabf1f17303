// A labelled field. What is being typed outlives everything that the page does meanwhile: a new
// value from elsewhere, and being drawn anew, which takes the field away and brings another one.
// Where that is because the page is told in another language, what was refused is kept as well.
let made = 0;
const kept = new Map(); // fields taken away while they were typed in, by what they are called
const WAIT_MS = 3000; // a field that comes back later than this is another field
export default {
  template: `
    <label class="bw-field" :title="help">
      <span class="bw-label">{{ label }}<span v-if="unit" class="bw-unit"> {{ unit }}</span></span>
      <input type="text" :inputmode="plain ? 'text' : 'decimal'" v-model="typed" autocomplete="off"
             ref="input" :aria-invalid="error ? 'true' : 'false'" :aria-describedby="described"
             :data-mark="mark" :placeholder="placeholder"
             @change="send" @blur="changed = ''" @keydown.escape.stop="take_the_other" />
      <span v-if="error" class="bw-wrong" :id="name" role="alert">{{ error }}</span>
      <span v-if="changed" class="bw-changed" :id="name + '-changed'" role="status">{{ changed }}</span>
    </label>`,
  props: {
    label: String, unit: String, shown: String, error: String, help: String, mark: String,
    plain: Boolean, placeholder: String, changed_words: Object,
    language: String,
  },
  data() {
    return { typed: this.shown, sent: null, sent_at: 0, changed: "", first: this.shown, name: "bw-wrong-" + ++made };
  },
  computed: {
    described() {
      if (this.error) return this.name;
      return this.changed ? this.name + "-changed" : null;
    },
  },
  mounted() {
    const found = kept.get(this.key());
    kept.delete(this.key());
    if (!found || Date.now() - found.at > WAIT_MS) return;
    if (found.language === this.language && !found.selection) return; // another field of that name
    this.typed = found.typed;
    if (found.language !== this.language) {
      if (found.sent) this.send(); // what is wrong with it is told anew
    } else this.tell(found.shown);
    if (!found.selection) return;
    this.$nextTick(() => {
      this.$refs.input.focus();
      this.$refs.input.setSelectionRange(...found.selection);
    });
  },
  beforeUnmount() {
    const input = this.$refs.input;
    const here = this.typing(this.shown);
    const mine = this.typed !== (this.plain ? this.first : this.shown);
    if (here || (mine && (this.plain || this.error)))
      kept.set(this.key(), {
        typed: this.typed, shown: this.shown, at: Date.now(), language: this.language,
        sent: !here, selection: here && [input.selectionStart, input.selectionEnd],
      });
  },
  watch: {
    shown(value, old) {
      if (!this.typing(old)) this.typed = value;
      else if (Date.now() - this.sent_at > WAIT_MS) this.tell(old); // else it answers what was sent
    },
  },
  methods: {
    key() {
      return this.mark || this.label;
    },
    typing(shown) {
      return document.activeElement === this.$refs.input && this.typed !== shown
        && this.typed !== this.sent;
    },
    send() {
      this.sent = this.typed;
      this.sent_at = Date.now();
      this.changed = "";
      this.$emit("typed", this.typed);
    },
    tell(old) {
      if (!this.changed_words) return;
      // A field for words may only have gone back to what it proposes.
      this.changed = old === this.shown || this.plain ? this.changed_words.same
        : this.changed_words.other.replaceAll("{value}", this.shown);
    },
    take_the_other() {
      this.typed = this.shown;
      this.changed = "";
    },
  },
};
