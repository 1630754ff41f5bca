"""The judge's model as src/judge/model.h has it, its loss, and its table."""
import torch
from torch import nn

from load_weighings import SIZES
from tables import literals, numbers, read_numbers, write_table


class JudgeModel(nn.Module):
    """Note features of what a hypothesis adds and removes go through a small net and are summed; these sums, that of all notes asked and the hypothesis's numbers give a score."""

    def __init__(self):
        super().__init__()
        self.note1 = nn.Linear(SIZES["kNoteInputs"], SIZES["kNoteHidden"])
        self.note2 = nn.Linear(SIZES["kNoteHidden"], SIZES["kNoteOutputs"])
        self.hypothesis1 = nn.Linear(SIZES["kHypothesisInputs"], SIZES["kHypothesisHidden"])
        self.hypothesis2 = nn.Linear(SIZES["kHypothesisHidden"], SIZES["kHypothesisHidden2"])
        self.score = nn.Linear(SIZES["kHypothesisHidden2"], 1)

    def layers(self):
        return self.note1, self.note2, self.hypothesis1, self.hypothesis2, self.score

    def notes_say(self, notes):
        return torch.relu(self.note2(torch.relu(self.note1(notes))))

    def forward(self, batch):
        said = self.notes_say(batch["notes"])
        added, removed = (torch.zeros(len(batch["hypotheses"]), said.shape[1]).index_add_(0, batch[owner], said[batch[rows]])
                          for rows, owner in (("added", "added_owner"), ("removed", "removed_owner")))
        all_asked = removed[batch["nothing"]][batch["look"]]  # that nothing was played removes them all
        inputs = torch.cat([batch["hypotheses"], added, removed, all_asked], 1)
        return self.score(torch.relu(self.hypothesis2(torch.relu(self.hypothesis1(inputs)))))[:, 0]


def chances(scores, batch):
    """(log chance, chance) of every hypothesis among those of its look."""
    look, looks = batch["look"], batch["looks"]
    top = torch.full((looks,), -1e9).scatter_reduce_(0, look, scores.detach(), "amax")
    grown = torch.exp(scores - top[look])
    total = torch.zeros(looks).index_add_(0, look, grown)
    return scores - top[look] - torch.log(total)[look], grown / total[look]


def chance_of_right(chance, batch):
    return torch.zeros(batch["looks"]).index_add_(0, batch["look"], chance * batch["right"])


def loss(scores, batch, weights):
    """Cross entropy of right against wrong, and three tenths of that of the true hypothesis among all."""
    log_chance, chance = chances(scores, batch)
    right = chance_of_right(chance, batch).clamp(1e-6, 1 - 1e-6)
    is_right = batch["right"][batch["true"]]
    verdict = -(is_right * torch.log(right) + (1 - is_right) * torch.log(1 - right))
    return ((0.3 * -log_chance[batch["true"]] + verdict) * weights).sum() / weights.sum()


def write_judge_table(models, path, note):
    """`models`: kModels of them, which the judge averages."""
    tables = []
    for model in models:
        layers = ",\n".join(f"    {{{{{literals(numbers(layer.weight).T.ravel())}}},\n     {{{literals(numbers(layer.bias))}}}}}" for layer in model.layers())
        tables.append(f"    ModelTable{{\n{layers}}}")
    write_table(path, "the judge's models", note, "judge/model.h", "gripline", "std::array<ModelTable, kModels> kModelTables", ",\n".join(tables))


def read_judge_table(path):
    """The models of a table that write_judge_table wrote."""
    values, models = torch.tensor(read_numbers(path)), []
    size = sum(p.numel() for p in JudgeModel().parameters())
    if not len(values) or len(values) % size:
        raise ValueError(f"{path}: {len(values)} numbers, where each model has {size}: the sizes in src/judge/model.h have changed since it was written")
    at = 0
    while at < len(values):
        models.append(JudgeModel())
        for layer in models[-1].layers():
            outputs, inputs = layer.weight.shape
            with torch.no_grad():
                layer.weight.copy_(values[at:at + inputs * outputs].reshape(inputs, outputs).T)
                layer.bias.copy_(values[at + inputs * outputs:at + (inputs + 1) * outputs])
            at += (inputs + 1) * outputs
    return models
