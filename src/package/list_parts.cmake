# Beside the package: the packages that are linked into it.
foreach(package ${CPACK_PACKAGE_FILES})
  get_filename_component(name ${package} NAME_WLE)
  set(list ${CPACK_PACKAGE_DIRECTORY}/${name}.spdx.json)
  execute_process(COMMAND python3 ${CPACK_LAYRIGHT_SBOM} ${CPACK_LAYRIGHT_BUILD} ${package} ${list} COMMAND_ERROR_IS_FATAL ANY)
endforeach()
