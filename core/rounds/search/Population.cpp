#include "core/rounds/search/Population.h"

#include "core/base/Index.h"

#include <algorithm>

namespace kitround::rounds {

double Population::apart(const Member &a, const Member &b) const {
    std::size_t differ = 0;
    for (std::size_t j = 0; j < a.next.size(); ++j)
        differ += a.next[j] != b.next[j] ? 1U : 0U;
    return static_cast<double>(differ) / static_cast<double>(std::max<std::size_t>(1, a.next.size()));
}

void Population::add(const WorkingPlan &plan, double cost) {
    auto member = std::make_unique<Member>(p_);
    member->keeper.keep(plan);
    member->cost = cost;
    member->next.assign(p_.jobs.size(), -1);
    for (std::size_t d = 0; d < p_.duties.size(); ++d) {
        const std::vector<std::int32_t> &jobs = plan.route(static_cast<std::int32_t>(d)).jobs;
        for (std::size_t i = 0; i + 1 < jobs.size(); ++i)
            member->next[at(jobs[i])] = jobs[i + 1];
    }
    const auto replace = [&](auto where) {
        if (cost < (*where)->cost)
            *where = std::move(member);
    };
    const auto same =
        std::ranges::find_if(members_, [&](const auto &other) { return apart(*member, *other) < kApart; });
    if (same != members_.end())
        return replace(same);
    if (members_.size() < kMost)
        return members_.push_back(std::move(member));
    replace(std::ranges::max_element(members_, {}, [](const auto &other) { return other->cost; }));
}

std::size_t Population::draw(Random &random) const {
    const std::size_t a = random.below(members_.size());
    const std::size_t b = random.below(members_.size());
    return members_[a]->cost <= members_[b]->cost ? a : b;
}

} // namespace kitround::rounds
